export const sql = `
CREATE TABLE heatgate.api_key (
  id           uuid PRIMARY KEY,
  client       text NOT NULL,
  name         text NOT NULL,
  begins       text NOT NULL,
  sha256       text NOT NULL UNIQUE,
  scopes       text[] NOT NULL,
  created_at   timestamptz NOT NULL DEFAULT now(),
  expires_at   timestamptz,
  revoked_at   timestamptz,
  last_used_at timestamptz
);
CREATE INDEX api_key_of_client ON heatgate.api_key (client);
`;
