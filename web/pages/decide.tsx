import { Page } from '../parts/page.tsx';

export function DecidePage() {
  return <Page title="Decide">{null}</Page>;
}
