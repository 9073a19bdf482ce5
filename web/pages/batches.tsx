import { Page } from '../parts/page.tsx';

export function BatchesPage() {
  return <Page title="Batches">{null}</Page>;
}
