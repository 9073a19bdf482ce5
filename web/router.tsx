import type { FunctionComponent } from 'react';
import { createRootRoute, createRoute, createRouter, lazyRouteComponent } from '@tanstack/react-router';
import { App } from './app.tsx';
import { parseSearch, stringifySearch } from './lib/search-text.ts';
import { NotFoundPage } from './pages/not-found.tsx';
import { Busy } from './parts/busy.tsx';
import { Failure } from './parts/failure.tsx';

const root = createRootRoute({ component: App, notFoundComponent: NotFoundPage });

const getParentRoute = () => root;

/**
 * A page at an address, fetched when it is first gone to. Of its module only the names are looked at: the
 * pages' own types rest on the addresses here, and would otherwise rest on themselves and be lost.
 */
function page<const Path extends string, Module extends object>(
  path: Path,
  load: () => Promise<Module>,
  name: keyof Module & string,
) {
  const component = lazyRouteComponent(load as () => Promise<Record<string, FunctionComponent>>, name);
  return createRoute({ getParentRoute, path, component });
}

const routeTree = root.addChildren([
  page('/', () => import('./pages/today/today-page.tsx'), 'TodayPage'),
  page('/days', () => import('./pages/days/days-page.tsx'), 'DaysPage'),
  page('/days/new', () => import('./pages/days/edit-day-page.tsx'), 'NewDayPage'),
  page('/days/$dayId', () => import('./pages/days/edit-day-page.tsx'), 'DayPage'),
  page('/stock', () => import('./pages/stock/stock-page.tsx'), 'StockPage'),
  page('/lineage', () => import('./pages/lineage/lineage-page.tsx'), 'LineagePage'),
  page('/shipments', () => import('./pages/shipments/shipments-page.tsx'), 'ShipmentsPage'),
  page('/shipments/new', () => import('./pages/shipments/edit-shipment-page.tsx'), 'NewShipmentPage'),
  page('/shipments/$shipmentId', () => import('./pages/shipments/shipment-page.tsx'), 'ShipmentPage'),
  page(
    '/shipments/$shipmentId/edit',
    () => import('./pages/shipments/edit-shipment-page.tsx'),
    'EditShipmentPage',
  ),
  page('/lots', () => import('./pages/lots/lots-page.tsx'), 'LotsPage'),
  page('/lots/new', () => import('./pages/lots/edit-lot-page.tsx'), 'NewLotPage'),
  page('/lots/$lotId', () => import('./pages/lots/lot-page.tsx'), 'LotPage'),
  page('/lots/$lotId/edit', () => import('./pages/lots/edit-lot-page.tsx'), 'EditLotPage'),
  page('/test-smelts', () => import('./pages/test-smelts/test-smelts-page.tsx'), 'TestSmeltsPage'),
  page('/test-smelts/new', () => import('./pages/test-smelts/edit-smelt-page.tsx'), 'NewTestSmeltPage'),
  page('/test-smelts/$smeltId', () => import('./pages/test-smelts/test-smelt-page.tsx'), 'TestSmeltPage'),
  page(
    '/test-smelts/$smeltId/edit',
    () => import('./pages/test-smelts/edit-smelt-page.tsx'),
    'EditTestSmeltPage',
  ),
  page('/prices', () => import('./pages/prices/prices-page.tsx'), 'PricesPage'),
  page('/prices/enter', () => import('./pages/prices/enter-prices-page.tsx'), 'EnterPricesPage'),
  page('/prices/supplies/new', () => import('./pages/prices/supply-page.tsx'), 'NewSupplyPage'),
  page('/prices/supplies/$supplyId', () => import('./pages/prices/supply-page.tsx'), 'SupplyPage'),
  page('/supply-stock', () => import('./pages/supply-stock/supply-stock-page.tsx'), 'SupplyStockPage'),
  page('/supply-stock/buy', () => import('./pages/supply-stock/buy-page.tsx'), 'BuyPage'),
  page('/supply-stock/count', () => import('./pages/supply-stock/count-page.tsx'), 'CountPage'),
  page(
    '/supply-stock/$supplyId',
    () => import('./pages/supply-stock/supply-ledger-page.tsx'),
    'SupplyLedgerPage',
  ),
  page('/expenses', () => import('./pages/expenses/expenses-page.tsx'), 'ExpensesPage'),
  page('/budget', () => import('./pages/budget/budget-page.tsx'), 'BudgetPage'),
  page('/treatments', () => import('./pages/treatments/treatments-page.tsx'), 'TreatmentsPage'),
  page('/treatments/advice', () => import('./pages/advice/advice-page.tsx'), 'AdvicePage'),
  page('/treatments/new', () => import('./pages/treatments/edit-treatment-page.tsx'), 'NewTreatmentPage'),
  page(
    '/treatments/$treatmentId',
    () => import('./pages/treatments/edit-treatment-page.tsx'),
    'TreatmentPage',
  ),
  page('/terms', () => import('./pages/terms/terms-page.tsx'), 'TermsPage'),
  page('/terms/new', () => import('./pages/terms/edit-terms-page.tsx'), 'NewTermsPage'),
  page('/terms/$termsId', () => import('./pages/terms/terms-record-page.tsx'), 'TermsRecordPage'),
  page('/terms/$termsId/edit', () => import('./pages/terms/edit-terms-page.tsx'), 'NextTermsPage'),
  page('/counterparties/new', () => import('./pages/terms/counterparty-pages.tsx'), 'NewCounterpartyPage'),
  page(
    '/counterparties/$counterpartyId/edit',
    () => import('./pages/terms/counterparty-pages.tsx'),
    'EditCounterpartyPage',
  ),
  page('/decide', () => import('./pages/decide/decide-page.tsx'), 'DecidePage'),
  page('/decisions', () => import('./pages/decisions/decisions-page.tsx'), 'DecisionsPage'),
  page('/decisions/$decisionId', () => import('./pages/decisions/decision-page.tsx'), 'DecisionPage'),
  page('/batches', () => import('./pages/batches/batches-page.tsx'), 'BatchesPage'),
  page('/batches/new', () => import('./pages/batches/new-batch-page.tsx'), 'NewBatchPage'),
  page('/batches/$batchId', () => import('./pages/batches/batch-page.tsx'), 'BatchPage'),
  page(
    '/batches/$batchId/charge-sheet',
    () => import('./pages/batches/charge-sheet-page.tsx'),
    'ChargeSheetPage',
  ),
  page('/settlements', () => import('./pages/settlements/settlements-page.tsx'), 'SettlementsPage'),
  page('/settlements/new', () => import('./pages/settlements/new-statement-page.tsx'), 'NewStatementPage'),
  page('/settlements/$statementId', () => import('./pages/settlements/statement-page.tsx'), 'StatementPage'),
  page(
    '/settlements/$statementId/edit',
    () => import('./pages/settlements/edit-statement-page.tsx'),
    'EditStatementPage',
  ),
  page(
    '/settlements/$statementId/buyer',
    () => import('./pages/buyer-statements/buyer-page.tsx'),
    'BuyerStatementPage',
  ),
  page('/months', () => import('./pages/months/months-page.tsx'), 'MonthsPage'),
  page('/months/$month', () => import('./pages/months/month-page.tsx'), 'MonthPage'),
  page('/season', () => import('./pages/season/season-page.tsx'), 'SeasonPage'),
  page('/import', () => import('./pages/import/import-page.tsx'), 'ImportPage'),
  page('/cupellation', () => import('./pages/cupellation/cupellation-page.tsx'), 'CupellationPage'),
  page('/balances/$balanceId', () => import('./pages/balances/balance-page.tsx'), 'BalancePage'),
  page('/set-password', () => import('./pages/sign-in/set-password-page.tsx'), 'SetPasswordPage'),
  page('/account', () => import('./pages/accounts/account-page.tsx'), 'AccountPage'),
  page('/accounts', () => import('./pages/accounts/accounts-page.tsx'), 'AccountsPage'),
  page('/accounts/links', () => import('./pages/accounts/download-links-page.tsx'), 'DownloadLinksPage'),
  page('/settings/accounts', () => import('./pages/settings/accounts-page.tsx'), 'AccountsPage'),
  page('/changes', () => import('./pages/audit/changes-page.tsx'), 'ChangesPage'),
  page('/settings', () => import('./pages/settings/settings-page.tsx'), 'SettingsPage'),
]);

export function createPages() {
  return createRouter({
    routeTree,
    parseSearch,
    stringifySearch,
    defaultErrorComponent: Failure,
    defaultPendingComponent: () => <Busy label="Loading" />,
    defaultPendingMs: 400,
    scrollRestoration: true,
  });
}

declare module '@tanstack/react-router' {
  interface Register {
    router: ReturnType<typeof createPages>;
  }
}
