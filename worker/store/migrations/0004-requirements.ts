export const sql = `
CREATE TABLE heatgate.requirement (
  owner       text NOT NULL,
  slug        text NOT NULL,
  version     integer NOT NULL,
  -- json and not jsonb: the text stays as it was put.
  requirement json NOT NULL,
  digest      text NOT NULL,
  created_at  timestamptz NOT NULL DEFAULT now(),
  created_by  text NOT NULL,
  PRIMARY KEY (owner, slug, version)
);
`;
