export const sql = `
-- Lists of what is rare, and of a client's newest heats among those of many clients, are read off an index however much is stored.
CREATE INDEX submission_verdict_of_owner ON heatgate.submission (owner, verdict, id) WHERE verdict IS NOT NULL;
CREATE INDEX submission_failed_of_owner ON heatgate.submission (owner, id) WHERE state = 'failed';
CREATE INDEX heat_newest_of_owner ON heatgate.heat (owner, submission);
CREATE INDEX heat_verdict_of_owner ON heatgate.heat (owner, verdict, submission);
`;
