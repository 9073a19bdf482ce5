import type { Migration } from 'kysely';
import { firstSeason } from './0001-first-season.ts';
import { production } from './0002-production.ts';
import { accounts } from './0003-accounts.ts';
import { audit } from './0004-audit.ts';
import { payments } from './0005-payments.ts';
import { keptFigures } from './0006-kept-figures.ts';
import { monthState } from './0007-month-state.ts';
import { monthBooks } from './0008-month-books.ts';
import { batchForecast } from './0009-batch-forecast.ts';
import { closedJournal } from './0010-closed-journal.ts';
import { auditSpeed } from './0012-audit-speed.ts';
import { importRows } from './0013-import-rows.ts';
import { purchaseImports } from './0014-purchase-imports.ts';

/** Every migration in order, listed by hand; forward only; never edited once released. */
export const migrations: Record<string, Migration> = {
  '0001-first-season': firstSeason,
  '0002-production': production,
  '0003-accounts': accounts,
  '0004-audit': audit,
  '0005-payments': payments,
  '0006-kept-figures': keptFigures,
  '0007-month-state': monthState,
  '0008-month-books': monthBooks,
  '0009-batch-forecast': batchForecast,
  '0010-closed-journal': closedJournal,
  '0012-audit-speed': auditSpeed,
  '0013-import-rows': importRows,
  '0014-purchase-imports': purchaseImports,
};
