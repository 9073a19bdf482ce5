import type { Deps } from '../routes/describe.ts';
import type { DownloadKind } from '../schemas/account.ts';
import { accountantCsvFile, seasonPackage, statementsZipFile } from '../season-downloads.ts';

/** What links can lead to. A new kind is added here and in `downloadKinds`; the tables take any. */
export const downloads: Record<
  DownloadKind,
  (deps: Deps, seasonId: string, requestId: string) => Promise<Response>
> = {
  'accountant-package': seasonPackage,
  'accountant-csv': accountantCsvFile,
  'statements-zip': statementsZipFile,
};
