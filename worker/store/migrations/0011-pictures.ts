export const sql = `
-- What the documents show where a report's values were read, for its HTML face. Gone with the report.
CREATE TABLE heatgate.report_pictures (
  submission uuid PRIMARY KEY REFERENCES heatgate.report ON DELETE CASCADE,
  pictures   text NOT NULL
);
`;
