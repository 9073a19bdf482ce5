import { Page } from '../parts/page.tsx';

export function TestSmeltsPage() {
  return <Page title="Test smelts">{null}</Page>;
}
