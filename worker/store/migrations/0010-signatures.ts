export const sql = `
-- Which key file seals the secrets of this database: a process that holds another one must not start on it.
CREATE TABLE heatgate.sealing (
  only_row boolean PRIMARY KEY DEFAULT true CHECK (only_row),
  key_id   text NOT NULL
);

-- Ed25519 keys for reports. Retired ones sign no more and stay published; revoked ones are no longer to be trusted.
CREATE TABLE heatgate.signing_key (
  id             text PRIMARY KEY,
  public_key     text NOT NULL,
  sealed_private text NOT NULL,
  created_at     timestamptz NOT NULL DEFAULT now(),
  retired_at     timestamptz,
  revoked_at     timestamptz,
  CHECK (revoked_at IS NULL OR retired_at IS NOT NULL)
);
CREATE UNIQUE INDEX signing_key_in_use ON heatgate.signing_key ((true)) WHERE retired_at IS NULL;

ALTER TABLE heatgate.report
  ADD COLUMN signature   text,
  ADD COLUMN signing_key text REFERENCES heatgate.signing_key;
-- Reports from before this version are signed when a process of it starts; no new one can be stored without.
ALTER TABLE heatgate.report
  ADD CONSTRAINT report_is_signed CHECK (signature IS NOT NULL AND signing_key IS NOT NULL) NOT VALID;
CREATE INDEX report_unsigned ON heatgate.report (submission) WHERE signature IS NULL;
`;
