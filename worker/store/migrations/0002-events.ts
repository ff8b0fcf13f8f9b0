export const sql = `
-- One event for each submission, written in the transaction that makes it final.
CREATE TABLE heatgate.event (
  id         text PRIMARY KEY,
  sequence   bigint GENERATED ALWAYS AS IDENTITY UNIQUE,
  submission uuid NOT NULL UNIQUE REFERENCES heatgate.submission ON DELETE CASCADE,
  owner      text,
  type       text NOT NULL,
  body       text NOT NULL,
  created_at timestamptz NOT NULL DEFAULT now()
);
CREATE INDEX event_of_owner ON heatgate.event (owner, sequence);

CREATE TABLE heatgate.delivery (
  event           text PRIMARY KEY REFERENCES heatgate.event ON DELETE CASCADE,
  url             text NOT NULL,
  secret          text NOT NULL,
  state           text NOT NULL DEFAULT 'pending' CHECK (state IN ('pending', 'delivered', 'failed', 'disabled')),
  -- Tries since the event, or since somebody asked for it to be sent again; they choose the next wait.
  tries           integer NOT NULL DEFAULT 0,
  next_attempt_at timestamptz
);
CREATE INDEX delivery_pending ON heatgate.delivery (event) WHERE state = 'pending';

CREATE TABLE heatgate.delivery_attempt (
  event       text NOT NULL REFERENCES heatgate.delivery ON DELETE CASCADE,
  attempt     integer NOT NULL,
  started_at  timestamptz NOT NULL,
  duration_ms integer NOT NULL,
  status      integer,
  address     text,
  problem     text,
  detail      text,
  answer      text,
  PRIMARY KEY (event, attempt)
);

-- Receivers that answered 410: they get nothing more.
CREATE TABLE heatgate.disabled_receiver (
  url         text PRIMARY KEY,
  disabled_at timestamptz NOT NULL DEFAULT now()
);
`;
