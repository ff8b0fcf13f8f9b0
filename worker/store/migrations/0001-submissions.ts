export const sql = `
CREATE TABLE heatgate.submission (
  id              uuid PRIMARY KEY,
  state           text NOT NULL DEFAULT 'accepted' CHECK (state IN ('accepted', 'working', 'done', 'failed')),
  owner           text,
  created_at      timestamptz NOT NULL DEFAULT now(),
  touched_at      timestamptz NOT NULL DEFAULT now(),
  finished_at     timestamptz,
  requirement     json,
  tags            jsonb NOT NULL DEFAULT '{}',
  callback_url    text,
  callback_secret text,
  starts          integer NOT NULL DEFAULT 0,
  verdict         text,
  heats           jsonb,
  report_digest   text,
  failure_code    text,
  failure_message text,
  CHECK (state <> 'done' OR (report_digest IS NOT NULL AND verdict IS NOT NULL)),
  CHECK (state <> 'failed' OR failure_code IS NOT NULL)
);
-- Ids start with the time of day they were made, so that the newest are read off the end of an index.
CREATE INDEX submission_newest_of_owner ON heatgate.submission (owner, id);
CREATE INDEX submission_tags ON heatgate.submission USING gin (tags jsonb_path_ops);
-- The sweep looks only at what is unfinished, however many submissions are stored.
CREATE INDEX submission_unfinished ON heatgate.submission (id) WHERE state IN ('accepted', 'working');

CREATE TABLE heatgate.document (
  submission uuid NOT NULL REFERENCES heatgate.submission ON DELETE CASCADE,
  position   integer NOT NULL,
  name       text NOT NULL,
  sha256     text NOT NULL CHECK (sha256 ~ '^[0-9a-f]{64}$'),
  bytes      bigint NOT NULL,
  media_type text NOT NULL,
  PRIMARY KEY (submission, position)
);
CREATE INDEX document_sha256 ON heatgate.document (sha256);

CREATE TABLE heatgate.report (
  submission uuid PRIMARY KEY REFERENCES heatgate.submission ON DELETE CASCADE,
  json       text NOT NULL,
  digest     text NOT NULL
);

CREATE TABLE heatgate.idempotency_key (
  owner       text NOT NULL,
  key         text NOT NULL,
  fingerprint text NOT NULL,
  submission  uuid NOT NULL REFERENCES heatgate.submission ON DELETE CASCADE,
  created_at  timestamptz NOT NULL DEFAULT now(),
  PRIMARY KEY (owner, key)
);
CREATE INDEX idempotency_key_age ON heatgate.idempotency_key (created_at);
`;
