import { Link } from '@tanstack/react-router';
import { Page } from '../parts/page.tsx';

export function NotFoundPage() {
  return (
    <Page title="Not found">
      <p>
        There is no page at this address. The record may have been deleted, or the address mistyped.{' '}
        <Link to="/">Go to Today</Link>
      </p>
    </Page>
  );
}
