export const sql = `
-- What a report was made from: the readings before anything was rounded for showing (gzip of JSON), and what was known then of
-- the same heats from earlier submissions. Reports of before this migration have neither.
ALTER TABLE heatgate.report ADD COLUMN evidence bytea, ADD COLUMN earlier json;

-- The cast analysis as the report has it, for holding later submissions of the same heat against it.
ALTER TABLE heatgate.heat ADD COLUMN cast_analysis jsonb NOT NULL DEFAULT '[]';
UPDATE heatgate.heat AS h SET cast_analysis = coalesce((
  SELECT jsonb_agg(jsonb_build_object(
    'quantity', reading->'quantity', 'value', reading->'value', 'printed', reading->'printed', 'submission', h.submission,
    'document', jsonb_strip_nulls(jsonb_build_object(
      'name', document->'name', 'sha256', document->'sha256', 'issuer', document->'issuer')),
    'place', (reading->'evidence') - 'document'))
  FROM heatgate.report AS r
  CROSS JOIN LATERAL (SELECT r.json::jsonb AS report) AS parsed
  CROSS JOIN LATERAL jsonb_array_elements(report->'heats'->h.position->'readings') AS reading
  CROSS JOIN LATERAL (SELECT report->'documents'->((reading->'evidence'->>'document')::integer) AS document) AS of
  WHERE r.submission = h.submission
    AND reading->>'unit' = '%' AND reading->>'quantity' NOT IN ('A', 'A50', 'A80', 'Elongation', 'Z', 'SFA')
    AND coalesce(reading->>'zone', 'base') = 'base' AND coalesce(reading->>'analysis', 'heat') = 'heat'
    AND reading->'bound' IS NULL AND (reading->>'confidence')::double precision >= 0.85
), '[]');
`;
