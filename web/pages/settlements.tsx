import { Page } from '../parts/page.tsx';

export function SettlementsPage() {
  return <Page title="Settlements">{null}</Page>;
}
