import { accessSync, constants, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';

/** Thrown when a data directory is there, but cannot be worked in; the message is for the owner. */
export class UnusableDirectoryError extends Error {
  override name = 'UnusableDirectoryError';
  constructor(directory: string, why: string, options?: ErrorOptions) {
    super(
      `The records in ${directory} cannot be used: ${why} Nothing was changed. Give this account of the computer the right to read and write everything in it, or name another directory with DATA_DIR or --data.`,
      options,
    );
  }
}

/**
 * Looks whether all of a database can be read and written before it is opened: PostgreSQL would give up half-way, with
 * words that help nobody.
 */
export function requireUsable(dataDir: string): void {
  const look = (path: string, rights: number, what: string): void => {
    try {
      accessSync(path, rights);
    } catch (error) {
      throw new UnusableDirectoryError(dataDir, `${path} cannot be ${what}.`, { cause: error });
    }
  };
  const enter = (directory: string): void => {
    if (!statSync(directory).isDirectory())
      throw new UnusableDirectoryError(dataDir, `${directory} is no directory.`);
    const { R_OK, W_OK, X_OK } = constants;
    look(directory, R_OK | W_OK | X_OK, 'read and written');
    for (const entry of readdirSync(directory, { withFileTypes: true })) {
      const path = join(directory, entry.name);
      if (entry.isDirectory()) enter(path);
      else look(path, R_OK | W_OK, 'read and written');
    }
  };
  enter(join(dataDir, 'database'));
}
