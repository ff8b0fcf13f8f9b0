export const sql = `
-- What is left of an erased submission. Nothing of what stood in its documents, and no word of the report.
CREATE TABLE heatgate.erasure (
  submission    uuid PRIMARY KEY,
  owner         text,
  handed_in_at  timestamptz NOT NULL,
  correction_of uuid,
  -- SHA-256 of each.
  documents     text[] NOT NULL,
  report_digest text,
  erased_at     timestamptz NOT NULL,
  person        text NOT NULL,
  key_name      text,
  reason        text NOT NULL,
  reference     text
);
CREATE INDEX erasure_correction_of ON heatgate.erasure (correction_of) WHERE correction_of IS NOT NULL;
CREATE TRIGGER erasure_is_added_to BEFORE UPDATE OR DELETE OR TRUNCATE ON heatgate.erasure
  FOR EACH STATEMENT EXECUTE FUNCTION heatgate.refuse_change();

-- Bytes that are to go, and those that are gone (removed_at). Whoever accepts the same bytes again puts them into the store once
-- more before the commit, and takes the row away.
CREATE TABLE heatgate.erased_document (
  sha256     text PRIMARY KEY,
  asked_at   timestamptz NOT NULL,
  removed_at timestamptz
);
CREATE INDEX erased_document_due ON heatgate.erased_document (asked_at) WHERE removed_at IS NULL;

-- A submission can outlive the bytes of its documents.
ALTER TABLE heatgate.submission ADD COLUMN documents_erased_at timestamptz;
CREATE INDEX submission_finished ON heatgate.submission (finished_at)
  WHERE finished_at IS NOT NULL AND correction_of IS NULL;
CREATE INDEX submission_documents_kept ON heatgate.submission (finished_at)
  WHERE finished_at IS NOT NULL AND documents_erased_at IS NULL;

-- Both outlive the submission: a key that led to an erased one must not make another, and its receivers hear that it was erased.
ALTER TABLE heatgate.idempotency_key DROP CONSTRAINT idempotency_key_submission_fkey;
ALTER TABLE heatgate.event DROP CONSTRAINT event_submission_fkey;

-- Events up to this number are kept no more, so that a reader of the feed who comes too late is told.
CREATE TABLE heatgate.event_horizon (
  owner    text PRIMARY KEY,
  sequence bigint NOT NULL
);
`;
