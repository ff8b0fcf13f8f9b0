export const sql = `
-- What reports say of each heat, for finding it again. \`key\` is its number without spaces, hyphens and case.
CREATE TABLE heatgate.heat (
  submission uuid NOT NULL REFERENCES heatgate.submission ON DELETE CASCADE,
  position   integer NOT NULL,
  owner      text NOT NULL,
  heat       text NOT NULL,
  key        text NOT NULL,
  verdict    text NOT NULL,
  issuers    text[] NOT NULL,
  PRIMARY KEY (submission, position)
);
CREATE INDEX heat_of_owner ON heatgate.heat (owner, key);
`;
