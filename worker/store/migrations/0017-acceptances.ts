export const sql = `
-- Acceptances on their way into the audit trail. Whoever accepts puts one here, for taking the end of the client's chain would make all
-- its accepting wait in line; it is moved there before anything else is said of the submission, or by the next sweep.
CREATE TABLE heatgate.acceptance (
  submission  uuid PRIMARY KEY,
  owner       text NOT NULL,
  accepted_at timestamptz NOT NULL DEFAULT now(),
  actor       text NOT NULL,
  details     json NOT NULL
);
CREATE INDEX acceptance_of_owner ON heatgate.acceptance (owner, submission);

-- Requirements that are not to be chosen any more. All their versions stay.
CREATE TABLE heatgate.archived_requirement (
  owner       text NOT NULL,
  slug        text NOT NULL,
  archived_at timestamptz NOT NULL DEFAULT now(),
  PRIMARY KEY (owner, slug)
);
`;
