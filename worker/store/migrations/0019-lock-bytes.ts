export const sql = `
-- Until the end of the transaction the bytes of these digests are not removed. Answers with those among them that are marked as erased.
-- VOLATILE, so that the marks are read with a snapshot of after the wait for the lock: the statement that calls it has an older one.
CREATE FUNCTION heatgate.lock_bytes(sha256s text[]) RETURNS text[] LANGUAGE plpgsql VOLATILE AS $$
BEGIN
  PERFORM pg_advisory_xact_lock_shared(('x' || left(d.sha256, 16))::bit(64)::bigint)
    FROM (SELECT DISTINCT sha256 FROM unnest(sha256s) AS u (sha256) ORDER BY sha256) AS d;
  RETURN ARRAY(SELECT e.sha256 FROM heatgate.erased_document AS e WHERE e.sha256 = ANY (sha256s));
END
$$;
`;
