import { OpenAPIHono } from '@hono/zod-openapi';
import { gate, knowActor } from './accounts/gate.ts';
import { grantsByEndpoint } from './accounts/grants.ts';
import { writes } from './audit/writes.ts';
import { onError, onNotFound } from './on-error.ts';
import { auditRoutes } from './routes/audit.ts';
import { accountantPackageRoutes } from './routes/accountant-package.ts';
import { accountRoutes } from './routes/accounts.ts';
import { backupRoutes } from './routes/backups.ts';
import { balanceRoutes } from './routes/balances.ts';
import { batchRoutes, productRoutes } from './routes/batches.ts';
import { buyerStatementRoutes } from './routes/buyer-statements.ts';
import { counterpartyRoutes } from './routes/counterparties.ts';
import { decisionRoutes } from './routes/decisions.ts';
import { downloadLinkRoutes, downloadRoutes } from './routes/downloads.ts';
import { importRoutes } from './routes/imports.ts';
import { cupellationRoutes } from './routes/cupellation.ts';
import { exchangeRateRoutes, expenseRoutes } from './routes/expenses.ts';
import { lineageRoutes } from './routes/lineage.ts';
import { lotRoutes } from './routes/lots.ts';
import { millRoutes, seasonRoutes } from './routes/mill.ts';
import { monthRoutes } from './routes/months.ts';
import { accountCodeRoutes, budgetRoutes } from './routes/plans.ts';
import { productionDayRoutes } from './routes/production-days.ts';
import { shipmentRoutes } from './routes/shipments.ts';
import { sessionRoutes } from './routes/session.ts';
import { statementPaymentRoutes } from './routes/statement-payments.ts';
import { statementRoutes } from './routes/statements.ts';
import { stockRoutes } from './routes/stock.ts';
import { supplyCountRoutes, supplyPurchaseRoutes, supplyStockRoutes } from './routes/supply-stock.ts';
import { quotationRoutes, supplyRoutes } from './routes/supplies.ts';
import { termsRoutes } from './routes/terms.ts';
import { testSmeltRoutes, trialRoutes } from './routes/test-smelts.ts';
import { todayRoutes } from './routes/today.ts';
import { treatmentRoutes } from './routes/treatments.ts';
import { writeOffRoutes } from './routes/write-offs.ts';
import { allow, type Deps } from './routes/describe.ts';
import { requestDatabase } from '../db/audit/acting.ts';

/** The whole API over one database, without a server: tests call `request` on it. */
export function createApp(given: Deps) {
  const deps = { ...given, db: requestDatabase(given.db) };
  const base = new OpenAPIHono().basePath('/api');
  base.use('*', knowActor(deps), gate(deps, endpointGrants), writes(given));
  const app = base
    .route('/session', sessionRoutes(deps))
    .route('/accounts', accountRoutes(deps))
    .route('/download-links', downloadLinkRoutes(deps))
    .route('/downloads', downloadRoutes(deps))
    .route('/mill', millRoutes(deps))
    .route('/seasons', seasonRoutes(deps))
    .route('/months', monthRoutes(deps))
    .route('/days', productionDayRoutes(deps))
    .route('/lots', lotRoutes(deps))
    .route('/trials', trialRoutes(deps))
    .route('/test-smelts', testSmeltRoutes(deps))
    .route('/supplies', supplyRoutes(deps))
    .route('/stock', stockRoutes(deps))
    .route('/supply-stock', supplyStockRoutes(deps))
    .route('/supply-purchases', supplyPurchaseRoutes(deps))
    .route('/supply-counts', supplyCountRoutes(deps))
    .route('/expenses', expenseRoutes(deps))
    .route('/exchange-rates', exchangeRateRoutes(deps))
    .route('/budgets', budgetRoutes(deps))
    .route('/account-codes', accountCodeRoutes(deps))
    .route('/accountant-package', accountantPackageRoutes(deps))
    .route('/balances', balanceRoutes(deps))
    .route('/cupellation', cupellationRoutes(deps))
    .route('/quotations', quotationRoutes(deps))
    .route('/treatments', treatmentRoutes(deps))
    .route('/counterparties', counterpartyRoutes(deps))
    .route('/terms', termsRoutes(deps))
    .route('/decisions', decisionRoutes(deps))
    .route('/batches', batchRoutes(deps))
    .route('/products', productRoutes(deps))
    .route('/lineage', lineageRoutes(deps))
    .route('/write-offs', writeOffRoutes(deps))
    .route('/shipments', shipmentRoutes(deps))
    .route('/statements', statementRoutes(deps))
    .route('/statements', statementPaymentRoutes(deps))
    .route('/buyer-statements', buyerStatementRoutes(deps))
    .route('/imports', importRoutes(deps))
    .route('/backups', backupRoutes(deps))
    .route('/audit', auditRoutes(deps))
    .route('/today', todayRoutes(deps));
  app.doc31('/openapi.json', {
    openapi: '3.1.0',
    info: {
      title: 'Poursheet',
      version: '0.1.0',
      description: 'Production economics and settlement for a small gold and silver mill.',
    },
  });
  function endpointGrants() {
    const endpoints = app.openAPIRegistry.definitions.flatMap((definition) =>
      definition.type === 'route' ? [definition.route] : [],
    );
    const document = { method: 'get', path: '/openapi.json', ...allow('operator', 'accountant') };
    return grantsByEndpoint('/api', [...endpoints, document]);
  }
  app.onError(onError);
  app.notFound(onNotFound);
  return app;
}

/** What the web client's types are drawn from. */
export type App = ReturnType<typeof createApp>;
