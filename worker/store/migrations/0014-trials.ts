export const sql = `
-- Questions to a worker about what was judged already. They change no report and tell no receiver.
CREATE TABLE heatgate.trial (
  id              uuid PRIMARY KEY,
  kind            text NOT NULL CHECK (kind IN ('dry-run', 'grades')),
  submission      uuid NOT NULL REFERENCES heatgate.submission ON DELETE CASCADE,
  heat            text,
  requirement     json,
  state           text NOT NULL DEFAULT 'accepted' CHECK (state IN ('accepted', 'done', 'failed')),
  starts          integer NOT NULL DEFAULT 0,
  result          json,
  failure_code    text,
  failure_message text,
  created_at      timestamptz NOT NULL DEFAULT now(),
  touched_at      timestamptz NOT NULL DEFAULT now(),
  finished_at     timestamptz
);
CREATE INDEX trial_of_submission ON heatgate.trial (submission);
-- The grades that heats meet follow from the submission alone, so that one answer serves everybody who asks.
CREATE UNIQUE INDEX trial_grades ON heatgate.trial (submission) WHERE kind = 'grades';
CREATE INDEX trial_unfinished ON heatgate.trial (id) WHERE state = 'accepted';
CREATE INDEX trial_age ON heatgate.trial (created_at);
`;
