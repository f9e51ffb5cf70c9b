/** What every error answer holds, over HTTP and on the command line. */
export interface ErrorBody {
  /** A stable word that a program can test. */
  readonly code: string;
  /** JSON pointer to the field at fault, or null. */
  readonly field: string | null;
  /** One sentence: what, requirement with unit, value received, remedy. */
  readonly message: string;
  /** The limit that was passed, or null. */
  readonly limit: number | string | null;
}

type Refusal = Partial<ErrorBody> & { readonly code: string; readonly message: string };

/** A request that is refused, with the HTTP status that says so. */
export class RequestError extends Error {
  readonly status: number;
  readonly body: ErrorBody;
  readonly headers: Readonly<Record<string, string>>;

  constructor(status: number, refusal: Refusal, headers: Readonly<Record<string, string>> = {}) {
    super(refusal.message);
    this.name = 'RequestError';
    this.status = status;
    this.body = toBody(refusal);
    this.headers = headers;
  }
}

/** The four fields in their order, whatever else the source holds. */
export function toBody(refusal: Refusal): ErrorBody {
  const { code, message } = refusal;
  return { code, field: refusal.field ?? null, message, limit: refusal.limit ?? null };
}

/**
 * The refusal that an error stands for; undefined for a fault of our own. The engine's refusals (of a design, of a
 * study's options, of a capture) all carry a code or the field, and one sentence.
 */
export function toRequestError(error: unknown): RequestError | undefined {
  if (error instanceof RequestError) return error;
  if (!(error instanceof Error)) return undefined;
  const { code, field, limit } = error as Error & { code?: unknown; field?: unknown; limit?: unknown };
  const named = typeof field === 'string';
  // A code in small letters is the engine's; the system's are in capitals.
  const refused = typeof code === 'string' && /^[a-z-]+$/.test(code);
  if (!named && !refused) return undefined;
  return new RequestError(422, {
    code: refused ? code : 'value',
    field: !named ? null : field === '' || field.startsWith('/') ? field : `/${field}`,
    message: error.message,
    limit: typeof limit === 'number' || typeof limit === 'string' ? limit : null,
  });
}
