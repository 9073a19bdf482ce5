import { Page } from '../parts/page.tsx';

export function SeasonPage() {
  return <Page title="Season">{null}</Page>;
}
