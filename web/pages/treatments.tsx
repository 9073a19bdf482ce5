import { Page } from '../parts/page.tsx';

export function TreatmentsPage() {
  return <Page title="Treatments">{null}</Page>;
}
