/** What receivers can be told of. */
export const EVENT_TYPES = [
  "submission.done",
  "submission.failed",
  "submission.erased",
  "heat.failed",
  "decision.recorded",
  "endpoint.disabled",
  "endpoint.test",
] as const;
export type EventType = (typeof EVENT_TYPES)[number];

/** Those that a receiver can choose; a test is sent to one endpoint, whatever it chose. */
export const CHOSEN_TYPES = EVENT_TYPES.filter((type) => type !== "endpoint.test");
