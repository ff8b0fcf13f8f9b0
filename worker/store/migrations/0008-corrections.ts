export const sql = `
-- A corrected submission is one of its own, over the same documents; the first stays as it was.
ALTER TABLE heatgate.submission
  ADD COLUMN corrections json,
  ADD COLUMN correction_of uuid REFERENCES heatgate.submission ON DELETE CASCADE;
CREATE INDEX submission_correction_of ON heatgate.submission (correction_of) WHERE correction_of IS NOT NULL;
`;
