import type { ContentfulStatusCode } from 'hono/utils/http-status';

/** One field at fault. */
export interface FieldError {
  /** JSON pointer (RFC 6901) into the request body; '' for the whole. */
  pointer: string;
  /** One sentence: the field, the value given, and what would be right. */
  detail: string;
  value?: unknown;
}

const kinds = {
  malformed: { status: 400, title: 'The request cannot be read' },
  'not-signed-in': { status: 401, title: 'Sign in first' },
  'sign-in-refused': { status: 401, title: 'You are not signed in' },
  'code-needed': { status: 401, title: 'A code is needed' },
  forbidden: { status: 403, title: 'The request comes from elsewhere' },
  'not-allowed': { status: 403, title: 'Your account may not do this' },
  'not-found': { status: 404, title: 'There is no such thing here' },
  conflict: { status: 409, title: 'This does not go with what is already recorded' },
  'changed-since': { status: 412, title: 'The record has changed since it was opened' },
  'version-needed': { status: 428, title: 'The version of the record is needed' },
  'too-large': { status: 413, title: 'The request is too large' },
  'media-type': { status: 415, title: 'The request is of a kind that is not taken here' },
  validation: { status: 422, title: 'Some of what was entered cannot be right' },
  'too-many': { status: 429, title: 'Too many tries' },
  internal: { status: 500, title: 'Something went wrong in the program' },
  unavailable: { status: 503, title: 'The database does not answer' },
} as const;
export type ProblemKind = keyof typeof kinds;

/** A refusal that the caller is told of, as RFC 9457 writes it. */
export class Problem extends Error {
  readonly kind: ProblemKind;
  readonly status: ContentfulStatusCode;
  readonly type: string;
  readonly title: string;
  readonly detail: string;
  readonly errors: FieldError[];
  /** Seconds after which to try again. */
  readonly retryAfterS: number | undefined;

  constructor(
    kind: ProblemKind,
    detail: string,
    more: { errors?: FieldError[]; retryAfterS?: number; cause?: unknown } = {},
  ) {
    super(detail, { cause: more.cause });
    this.kind = kind;
    this.status = kinds[kind].status;
    this.type = `/problems/${kind}`;
    this.title = kinds[kind].title;
    this.detail = detail;
    this.errors = more.errors ?? [];
    this.retryAfterS = more.retryAfterS;
  }
}
