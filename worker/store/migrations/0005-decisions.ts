export const sql = `
CREATE TABLE heatgate.decision (
  id         uuid PRIMARY KEY,
  owner      text NOT NULL,
  submission uuid NOT NULL REFERENCES heatgate.submission ON DELETE CASCADE,
  heat       text NOT NULL,
  action     text NOT NULL CHECK (action IN ('accept', 'concession', 'return', 'retest')),
  person     text NOT NULL,
  reason     text NOT NULL,
  reference  text,
  verdict    text NOT NULL,
  key_name   text NOT NULL,
  created_at timestamptz NOT NULL DEFAULT now()
);
CREATE INDEX decision_of_submission ON heatgate.decision (submission, id);

-- Text and not timestamptz: the hash is over what stands here.
CREATE TABLE heatgate.audit (
  owner    text NOT NULL,
  number   integer NOT NULL,
  at       text NOT NULL,
  actor    text NOT NULL,
  kind     text NOT NULL,
  subject  text NOT NULL,
  details  json NOT NULL,
  previous text NOT NULL,
  hash     text NOT NULL,
  PRIMARY KEY (owner, number)
);

CREATE FUNCTION heatgate.refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION '% is only ever added to', TG_TABLE_NAME;
END $$;
CREATE TRIGGER audit_is_added_to BEFORE UPDATE OR DELETE OR TRUNCATE ON heatgate.audit
  FOR EACH STATEMENT EXECUTE FUNCTION heatgate.refuse_change();
CREATE TRIGGER decision_is_not_changed BEFORE UPDATE ON heatgate.decision
  FOR EACH STATEMENT EXECUTE FUNCTION heatgate.refuse_change();
`;
