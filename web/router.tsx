import { createRootRoute, createRoute, createRouter, lazyRouteComponent } from '@tanstack/react-router';
import { App } from './app.tsx';
import { parseSearch, stringifySearch } from './lib/search-text.ts';
import { NotFoundPage } from './pages/not-found.tsx';
import { Busy } from './parts/busy.tsx';
import { Failure } from './parts/failure.tsx';

const root = createRootRoute({ component: App, notFoundComponent: NotFoundPage });

const child = { getParentRoute: () => root } as const;

const routeTree = root.addChildren([
  createRoute({
    ...child,
    path: '/',
    component: lazyRouteComponent(() => import('./pages/today.tsx'), 'TodayPage'),
  }),
  createRoute({
    ...child,
    path: '/lots',
    component: lazyRouteComponent(() => import('./pages/lots/lots-page.tsx'), 'LotsPage'),
  }),
  createRoute({
    ...child,
    path: '/lots/new',
    component: lazyRouteComponent(() => import('./pages/lots/edit-lot-page.tsx'), 'NewLotPage'),
  }),
  createRoute({
    ...child,
    path: '/lots/$lotId',
    component: lazyRouteComponent(() => import('./pages/lots/lot-page.tsx'), 'LotPage'),
  }),
  createRoute({
    ...child,
    path: '/lots/$lotId/edit',
    component: lazyRouteComponent(() => import('./pages/lots/edit-lot-page.tsx'), 'EditLotPage'),
  }),
  createRoute({
    ...child,
    path: '/test-smelts',
    component: lazyRouteComponent(() => import('./pages/test-smelts/test-smelts-page.tsx'), 'TestSmeltsPage'),
  }),
  createRoute({
    ...child,
    path: '/test-smelts/new',
    component: lazyRouteComponent(
      () => import('./pages/test-smelts/edit-smelt-page.tsx'),
      'NewTestSmeltPage',
    ),
  }),
  createRoute({
    ...child,
    path: '/test-smelts/$smeltId',
    component: lazyRouteComponent(() => import('./pages/test-smelts/test-smelt-page.tsx'), 'TestSmeltPage'),
  }),
  createRoute({
    ...child,
    path: '/test-smelts/$smeltId/edit',
    component: lazyRouteComponent(
      () => import('./pages/test-smelts/edit-smelt-page.tsx'),
      'EditTestSmeltPage',
    ),
  }),
  createRoute({
    ...child,
    path: '/prices',
    component: lazyRouteComponent(() => import('./pages/prices.tsx'), 'PricesPage'),
  }),
  createRoute({
    ...child,
    path: '/treatments',
    component: lazyRouteComponent(() => import('./pages/treatments.tsx'), 'TreatmentsPage'),
  }),
  createRoute({
    ...child,
    path: '/terms',
    component: lazyRouteComponent(() => import('./pages/terms.tsx'), 'TermsPage'),
  }),
  createRoute({
    ...child,
    path: '/decide',
    component: lazyRouteComponent(() => import('./pages/decide/decide-page.tsx'), 'DecidePage'),
  }),
  createRoute({
    ...child,
    path: '/batches',
    component: lazyRouteComponent(() => import('./pages/batches/batches-page.tsx'), 'BatchesPage'),
  }),
  createRoute({
    ...child,
    path: '/batches/new',
    component: lazyRouteComponent(() => import('./pages/batches/new-batch-page.tsx'), 'NewBatchPage'),
  }),
  createRoute({
    ...child,
    path: '/batches/$batchId',
    component: lazyRouteComponent(() => import('./pages/batches/batch-page.tsx'), 'BatchPage'),
  }),
  createRoute({
    ...child,
    path: '/settlements',
    component: lazyRouteComponent(() => import('./pages/settlements.tsx'), 'SettlementsPage'),
  }),
  createRoute({
    ...child,
    path: '/season',
    component: lazyRouteComponent(() => import('./pages/season.tsx'), 'SeasonPage'),
  }),
  createRoute({
    ...child,
    path: '/import',
    component: lazyRouteComponent(() => import('./pages/import.tsx'), 'ImportPage'),
  }),
  createRoute({
    ...child,
    path: '/settings',
    component: lazyRouteComponent(() => import('./pages/settings.tsx'), 'SettingsPage'),
  }),
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
