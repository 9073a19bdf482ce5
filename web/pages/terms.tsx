import { Page } from '../parts/page.tsx';

export function TermsPage() {
  return <Page title="Buyers’ terms">{null}</Page>;
}
