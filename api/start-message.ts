import { BackupError } from '../db/backup/format.ts';
import { DataDirectoryInUseError } from '../db/engine/data-directory-lock.ts';
import { DatabaseNotOpenedError } from '../db/engine/engine.ts';
import { UnusableDirectoryError } from '../db/engine/usable-directory.ts';
import { NewerDatabaseError } from '../db/migrate.ts';
import { ConfigError, type Config } from './config.ts';
import { CannotMakeOwnerError } from './accounts/make-owner.ts';
import { NobodyCanSignInError } from './accounts/nobody-can-sign-in.ts';
import { PagesMissingError } from './site.ts';

const forTheOwner = [
  BackupError,
  ConfigError,
  CannotMakeOwnerError,
  DataDirectoryInUseError,
  DatabaseNotOpenedError,
  NewerDatabaseError,
  NobodyCanSignInError,
  PagesMissingError,
  UnusableDirectoryError,
];

/** What a file system says that cannot be written to, or where a path is none. */
const ofTheDirectory = new Set([
  'EACCES',
  'EEXIST',
  'EIO',
  'ELOOP',
  'ENAMETOOLONG',
  'ENOENT',
  'ENOSPC',
  'ENOTDIR',
  'EPERM',
  'EROFS',
]);

/** What to tell the owner when the program does not start, and the code to end with: 2 for a wrong setting. */
export function startMessage(
  error: unknown,
  config: Config | undefined,
): { message: string; exitCode: number } {
  if (forTheOwner.some((kind) => error instanceof kind))
    return { message: (error as Error).message, exitCode: error instanceof ConfigError ? 2 : 1 };

  const { code, message, stack, cause } = error as NodeJS.ErrnoException;
  const { port, databaseUrl, dataDir } = config ?? {};
  const exitCode = 1;
  if (code === 'EADDRINUSE')
    return {
      message: `Port ${port} is taken by another program. Choose another with PORT or --port, such as PORT=${(port ?? 0) + 1}.`,
      exitCode,
    };
  if (code === 'EACCES' && message.includes('listen'))
    return {
      message: `Port ${port} is kept for the system. Choose one above 1023 with PORT or --port.`,
      exitCode,
    };
  if (databaseUrl !== undefined && code !== undefined)
    return {
      message: `The database server named by DATABASE_URL or --database cannot be used: ${message}`,
      exitCode,
    };
  if (ofTheDirectory.has(code ?? ''))
    return {
      message: `The data directory ${dataDir} cannot be used: ${message}. Choose another with DATA_DIR or --data.`,
      exitCode,
    };
  const under = cause instanceof Error ? `\nThe reason: ${cause.message}` : '';
  return { message: `Poursheet could not start. ${stack ?? message}${under}`, exitCode };
}
