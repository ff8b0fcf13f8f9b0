export const sql = `
-- Receivers that a client registered, beside the callback that a single submission may name.
CREATE TABLE heatgate.endpoint (
  id               uuid PRIMARY KEY,
  owner            text NOT NULL,
  url              text NOT NULL,
  description      text NOT NULL DEFAULT '',
  -- NULL: every type, those to come included.
  events           text[],
  body             text NOT NULL CHECK (body IN ('thin', 'full')),
  state            text NOT NULL DEFAULT 'active' CHECK (state IN ('active', 'disabled')),
  disabled_at      timestamptz,
  disabled_because text CHECK (disabled_because IN ('gone', 'failing', 'asked')),
  -- The first failure since the last success.
  failing_since    timestamptz,
  created_at       timestamptz NOT NULL DEFAULT now(),
  CHECK ((state = 'disabled') = (disabled_at IS NOT NULL AND disabled_because IS NOT NULL))
);
CREATE INDEX endpoint_of_owner ON heatgate.endpoint (owner, id);

-- All that have not ended sign at once, so that a receiver can change over whenever it likes.
CREATE TABLE heatgate.endpoint_secret (
  id         uuid PRIMARY KEY,
  endpoint   uuid NOT NULL REFERENCES heatgate.endpoint ON DELETE CASCADE,
  sealed     text NOT NULL,
  public_key text,
  created_at timestamptz NOT NULL DEFAULT clock_timestamp(),
  ends_at    timestamptz
);
CREATE INDEX endpoint_secret_of ON heatgate.endpoint_secret (endpoint);

-- Events are no longer one to a submission, nor all about one. \`content\`: what a full body says besides, where it is no report.
ALTER TABLE heatgate.event ALTER COLUMN submission DROP NOT NULL;
ALTER TABLE heatgate.event DROP CONSTRAINT event_submission_key;
ALTER TABLE heatgate.event ADD COLUMN content text;
CREATE UNIQUE INDEX event_final ON heatgate.event (submission) WHERE type IN ('submission.done', 'submission.failed');
CREATE INDEX event_of_submission ON heatgate.event (submission);
CREATE INDEX event_age ON heatgate.event (owner, created_at);

-- Deliveries are no longer one to an event. A callback's keeps the id of its event.
ALTER TABLE heatgate.delivery_attempt DROP CONSTRAINT delivery_attempt_event_fkey;
ALTER TABLE heatgate.delivery DROP CONSTRAINT delivery_pkey;
ALTER TABLE heatgate.delivery
  ADD COLUMN id       text,
  ADD COLUMN endpoint uuid REFERENCES heatgate.endpoint ON DELETE CASCADE;
UPDATE heatgate.delivery SET id = event;
ALTER TABLE heatgate.delivery
  ADD PRIMARY KEY (id),
  ALTER COLUMN url DROP NOT NULL,
  ALTER COLUMN secret DROP NOT NULL,
  ADD CHECK ((endpoint IS NULL) = (url IS NOT NULL)),
  ADD CHECK ((url IS NULL) = (secret IS NULL));
CREATE INDEX delivery_of_event ON heatgate.delivery (event);
CREATE INDEX delivery_of_endpoint ON heatgate.delivery (endpoint, id) WHERE endpoint IS NOT NULL;
DROP INDEX heatgate.delivery_pending;
CREATE INDEX delivery_pending ON heatgate.delivery (id) WHERE state = 'pending';
ALTER TABLE heatgate.delivery_attempt RENAME COLUMN event TO delivery;
ALTER TABLE heatgate.delivery_attempt ADD FOREIGN KEY (delivery) REFERENCES heatgate.delivery ON DELETE CASCADE;
`;
