import type { ReactNode } from 'react';
import { useIsClosed } from '../lib/session.ts';

/** A way to a page that enters or changes something; left out for whoever may not send that change. */
export function IfOpen(props: { change: string; children: ReactNode }) {
  return useIsClosed(props.change) ? null : props.children;
}
