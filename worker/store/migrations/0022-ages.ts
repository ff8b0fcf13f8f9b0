export const sql = `
-- What is due to be taken away is read off an index, also where nothing is.
CREATE INDEX event_created ON heatgate.event (created_at);
CREATE INDEX trial_age_of_kind ON heatgate.trial (kind, created_at) WHERE state <> 'accepted';
DROP INDEX heatgate.trial_age;
`;
