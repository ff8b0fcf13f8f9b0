export const sql = `
-- Nobody has read or written it since 0020, which kept it for processes of the version before; those are gone when this runs.
DROP TABLE heatgate.disabled_receiver;
`;
