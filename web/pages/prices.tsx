import { Page } from '../parts/page.tsx';

export function PricesPage() {
  return <Page title="Prices & costs">{null}</Page>;
}
