import { ConnectionWaitError, EngineStoppedError } from '../db/engine/engine.ts';
import { Problem, type FieldError } from './problem.ts';
import { fieldLabel, shownValue } from './problem-sentence.ts';

/** What PostgreSQL says of an error, on either engine. */
interface DatabaseError extends Error {
  code: string;
  detail?: string;
  table?: string;
  column?: string;
  constraint?: string;
}

/** What the client says of a connection that broke under a question, or before it was asked. */
const CONNECTION_LOST =
  /^(Connection terminated|Client (has encountered a connection error|was closed) and is not queryable)/;

const networkCodes = [
  'ECONNREFUSED',
  'ECONNRESET',
  'ETIMEDOUT',
  'ENOTFOUND',
  'EAI_AGAIN',
  'EPIPE',
  'EHOSTUNREACH',
];

/** The problem that a refused statement stands for; undefined when the error is the program's own fault. */
export function problemFromDatabaseError(error: unknown): Problem | undefined {
  if (error instanceof ConnectionWaitError)
    return unavailable('The database is busy. Nothing was changed; try again in a moment.', error);
  if (error instanceof EngineStoppedError)
    return unavailable('The database has stopped and the program must be started again.', error);
  if (!(error instanceof Error)) return undefined;
  if (CONNECTION_LOST.test(error.message))
    return unavailable('The connection to the database was lost. Look whether the change was made.', error);
  const { code } = error as Partial<DatabaseError>;
  if (typeof code !== 'string') return undefined;
  // A server on this machine that is stopped leaves no socket to connect to.
  const hasNoSocket = code === 'ENOENT' && (error as NodeJS.ErrnoException).syscall === 'connect';
  if (networkCodes.includes(code) || hasNoSocket)
    return unavailable('The database server cannot be reached.', error);
  return fromSqlState(error as DatabaseError);
}

/** Codes: PostgreSQL documentation, appendix "PostgreSQL Error Codes". */
function fromSqlState(error: DatabaseError): Problem | undefined {
  switch (error.code) {
    case '23505': // unique_violation
      return refused('conflict', error, keyOf(error), 'is already taken by another record');
    case '23P01': // exclusion_violation
      return refused('conflict', error, keyOf(error), 'overlaps another record');
    case '23503': // foreign_key_violation
      return error.detail?.includes('still referenced') === true
        ? new Problem('conflict', 'Other records still hang on this one, so it stays.', { cause: error })
        : refused('validation', error, keyOf(error), 'names a record that is not there');
    case '23514': // check_violation
      return refused(
        'validation',
        error,
        { column: checkedColumn(error) },
        'is outside what can be recorded',
      );
    case '23502': // not_null_violation
      return refused('validation', error, { column: error.column }, 'is missing');
    case '22003': // numeric_value_out_of_range
    case '22007': // invalid_datetime_format
    case '22008': // datetime_field_overflow
    case '22P02': // invalid_text_representation
    case '22021': // character_not_in_repertoire
    case '22P05': // untranslatable_character
      return refused('validation', error, {}, 'holds a value that the database cannot take');
    case '40001': // serialization_failure
    case '40P01': // deadlock_detected
      return unavailable('Another change came at the same moment. Nothing was changed; try again.', error, 1);
    case '53100': // disk_full
      return unavailable('The disk of the database is full. Nothing was changed.', error, 60);
  }
  const connectionLost = ['08', '53', '57'].includes(error.code.slice(0, 2));
  return connectionLost ? unavailable('The database does not take requests just now.', error) : undefined;
}

function unavailable(detail: string, cause: Error, retryAfterS = 5): Problem {
  return new Problem('unavailable', detail, { retryAfterS, cause });
}

function refused(
  kind: 'conflict' | 'validation',
  cause: DatabaseError,
  { column, value }: { column?: string | undefined; value?: string | undefined },
  what: string,
): Problem {
  const pointer = column === undefined ? '' : `/${camelCase(column)}`;
  const label = fieldLabel(pointer);
  const detail = `${label} ${value === undefined ? '' : `${shownValue(value)} `}${what}.`;
  const errors: FieldError[] =
    pointer === '' ? [] : [{ pointer, detail, ...(value === undefined ? {} : { value }) }];
  return new Problem(kind, detail, { errors, cause });
}

/** PostgreSQL writes `Key (code)=(L-7) already exists.`; of several columns none is the one at fault. */
function keyOf({ detail }: DatabaseError): { column?: string | undefined; value?: string | undefined } {
  const [, column, value] = /^Key \(([a-z0-9_]+)\)=\((.*)\) /.exec(detail ?? '') ?? [];
  return { column, value };
}

/** An unnamed check on one column is called `<table>_<column>_check`. */
function checkedColumn({ table, constraint }: DatabaseError): string | undefined {
  if (table === undefined || constraint?.startsWith(`${table}_`) !== true) return undefined;
  return /^(.+)_check\d*$/.exec(constraint.slice(table.length + 1))?.[1];
}

function camelCase(column: string): string {
  return column.replace(/_([a-z0-9])/g, (_, letter: string) => letter.toUpperCase());
}
