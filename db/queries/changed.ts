/** Somebody changed the record since it was read: nothing was written. */
export class ChangedSince extends Error {
  readonly what: string;
  constructor(what: string) {
    super(`${what} was changed by somebody else since it was opened`);
    this.what = what;
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
