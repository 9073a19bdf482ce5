import { Page } from '../parts/page.tsx';

export function TodayPage() {
  return <Page title="Today">{null}</Page>;
}
