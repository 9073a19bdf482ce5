import { OpenAPIHono, z } from '@hono/zod-openapi';
import type { Context } from 'hono';
import type { Kysely } from 'kysely';
import type { ZodType } from 'zod';
import { GRANTS_FIELD, type Grant } from '../accounts/grants.ts';
import type { Passwords } from '../accounts/passwords.ts';
import type { Backups } from '../backups/backups.ts';
import { problemFromZod } from '../problem-from-zod.ts';
import type { Database } from '../../db/schema.ts';

/** What a handler may reach beside its request. */
export interface Deps {
  db: Kysely<Database>;
  now: () => Date;
  /** Whether everybody must sign in even while there are no accounts: the program is reached from elsewhere. */
  signInAlways?: boolean;
  /** How passwords are kept; the program's own way unless a test wants it quicker. */
  passwords?: Passwords;
  /** Where copies of the books are kept, if anywhere. */
  backups?: Backups | undefined;
}

/**
 * Who may use an endpoint, beside the owner, who may use every one; to be spread into `createRoute`. An endpoint
 * without it is refused to everybody else, and a test asks for it (tests/api/access.test.ts).
 */
export function allow(...grants: Grant[]) {
  return { [GRANTS_FIELD]: ['owner', ...grants] } as const;
}

/** A sub-app whose refused requests become one problem document, whatever was wrong with them. */
export function subApp() {
  return new OpenAPIHono({
    defaultHook: (result) => {
      if (!result.success) throw problemFromZod(result.error, (result as { data?: unknown }).data);
    },
  });
}

export const problemSchema = z
  .object({
    type: z.string(),
    title: z.string(),
    status: z.int(),
    detail: z.string(),
    requestId: z.string().optional(),
    errors: z.array(z.object({ pointer: z.string(), detail: z.string() })).optional(),
  })
  .openapi('Problem', { description: 'RFC 9457 problem details' });

const problems = {
  default: {
    description: 'A problem (RFC 9457), with a JSON pointer for every field at fault',
    content: { 'application/problem+json': { schema: problemSchema } },
  },
} as const;

/** The answers of an endpoint: a JSON body on success, a problem otherwise. */
export function answers<S extends ZodType>(schema: S, description: string) {
  return { 200: { description, content: { 'application/json': { schema } } }, ...problems } as const;
}

export function created<S extends ZodType>(schema: S, description: string) {
  return { 201: { description, content: { 'application/json': { schema } } }, ...problems } as const;
}

export function nothing(description: string) {
  return { 204: { description }, ...problems } as const;
}

export function file(mediaType: string, description: string) {
  return {
    200: {
      description,
      content: { [mediaType]: { schema: z.string().openapi({ format: 'binary' }) } },
    },
    ...problems,
  } as const;
}

/** Required, or a request without a content type would slip past its schema. */
export function jsonBody<S extends ZodType>(schema: S) {
  return { required: true, content: { 'application/json': { schema } } } as const;
}

/** A table as a file has it. */
export const csvBody = {
  description: 'The file as it is, in UTF-8',
  required: true,
  content: { 'text/csv': { schema: z.string().openapi({ format: 'binary' }) } },
} as const;

export const idParam = z.object({ id: z.uuid({ error: 'must be the id of a record' }) });

/** Under which the log has what belongs to a request. */
export function requestIdOf(c: Context): string {
  return (c.get('requestId') as string | undefined) ?? crypto.randomUUID();
}
