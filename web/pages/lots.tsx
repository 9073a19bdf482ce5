import { Page } from '../parts/page.tsx';

export function LotsPage() {
  return <Page title="Lots">{null}</Page>;
}
