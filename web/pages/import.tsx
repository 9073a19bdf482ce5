import { Page } from '../parts/page.tsx';

export function ImportPage() {
  return <Page title="Import">{null}</Page>;
}
