export const sql = `
-- What a submission says and what it is held to, as one digest: the same again is answered with what is there.
ALTER TABLE heatgate.submission ADD COLUMN content text;
CREATE INDEX submission_content ON heatgate.submission (owner, content) WHERE content IS NOT NULL;
`;
