export const sql = `
-- The W3C traceparent of what made the work necessary, so that the sweep brings it back to the same trace.
ALTER TABLE heatgate.submission ADD COLUMN traceparent text;
ALTER TABLE heatgate.event ADD COLUMN traceparent text;
`;
