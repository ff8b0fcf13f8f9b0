import {
  type Attributes,
  type Context,
  context,
  isSpanContextValid,
  propagation,
  ROOT_CONTEXT,
  type Span,
  type SpanKind,
  SpanStatusCode,
  trace,
} from "@opentelemetry/api";

export interface SpanDescription {
  readonly kind?: SpanKind;
  /** By OpenTelemetry's semantic conventions, else beginning with "heatgate."; never what a document says. */
  readonly attributes?: Attributes;
  /** What the span belongs to, where that is not what is running. */
  readonly parent?: Context;
}

/**
 * Runs `work` in a span of its own, to which everything begun inside belongs. What it throws marks the span and is thrown on.
 * Where no tracing was started, `work` runs and nothing else happens.
 */
export async function inSpan<Result>(
  name: string,
  description: SpanDescription,
  work: (span: Span) => Promise<Result>,
): Promise<Result> {
  const { span, inside } = beginSpan(name, description);
  try {
    return await context.with(inside, work, undefined, span);
  } catch (error) {
    markFailed(span, error);
    throw error;
  } finally {
    span.end();
  }
}

/** The same for work that does not wait. */
export function inSpanNow<Result>(name: string, work: () => Result): Result {
  const { span, inside } = beginSpan(name, {});
  try {
    return context.with(inside, work);
  } catch (error) {
    markFailed(span, error);
    throw error;
  } finally {
    span.end();
  }
}

/** For a span that ends elsewhere than it began. */
export function beginSpan(name: string, { parent = context.active(), ...options }: SpanDescription) {
  const span = trace.getTracer("heatgate").startSpan(name, options, parent);
  return { span, inside: trace.setSpan(parent, span) };
}

/** The running span as W3C Trace Context writes it; undefined where nothing is traced. */
export function currentTraceparent(): string | undefined {
  const carrier: { traceparent?: string } = {};
  propagation.inject(context.active(), carrier);
  return carrier.traceparent;
}

/**
 * Where a span belongs that was begun elsewhere. What is not a traceparent begins a trace of its own. Its companion tracestate, which the
 * standard lets one drop, is not carried: it would tell receivers of whatever systems the sender passed through.
 */
export function contextOf(traceparent: string | undefined): Context {
  return traceparent === undefined ? ROOT_CONTEXT : propagation.extract(ROOT_CONTEXT, { traceparent });
}

/** For log lines; nothing where nothing is traced. */
export function traceIdOf(span: Span | undefined = trace.getActiveSpan()): { readonly traceId?: string } {
  const spanContext = span?.spanContext();
  return spanContext && isSpanContextValid(spanContext) ? { traceId: spanContext.traceId } : {};
}

function markFailed(span: Span, error: unknown): void {
  // Its class and not its message, which may quote a document.
  const type = error instanceof Error ? error.name : "unknown";
  span.setAttribute("error.type", type);
  span.setStatus({ code: SpanStatusCode.ERROR });
}
