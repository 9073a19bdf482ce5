/** A record, and the version in which it was seen; null where that is not known. */
export interface SeenRecord {
  table: string;
  id: string;
  version: number | null;
}

/** Somebody changed the record since it was read: nothing was written. */
export class ChangedSince extends Error {
  readonly what: string;
  /** Where what changed can be looked up; null for what is no single record. */
  readonly seen: SeenRecord | null;
  constructor(what: string, seen: SeenRecord | null = null) {
    super(`${what} was changed by somebody else since it was opened`);
    this.what = what;
    this.seen = seen;
  }
}

/** The request names a record that is not there. */
export class NotFound extends Error {
  readonly what: string;
  constructor(what: string) {
    super(`there is no such ${what}`);
    this.what = what;
  }
}

/** The request fits its schema but not what the records say: `pointer` is the field to mend. */
export class Refused extends Error {
  readonly pointer: string;
  constructor(pointer: string, message: string) {
    super(message);
    this.pointer = pointer;
  }
}
