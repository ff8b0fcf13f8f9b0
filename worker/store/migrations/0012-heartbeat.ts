export const sql = `
-- One row: the heartbeat of the whole installation, whichever process had its turn last.
CREATE TABLE heatgate.heartbeat (
  one_row    boolean PRIMARY KEY DEFAULT true CHECK (one_row),
  begun_at   timestamptz NOT NULL,
  submission uuid,
  outcome    text CHECK (outcome IN ('right', 'wrong', 'late')),
  detail     text
);
`;
