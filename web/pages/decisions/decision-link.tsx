import type { ReactNode } from 'react';
import { Link } from '@tanstack/react-router';

/** A way to a recorded decision from what carries it out. */
export function DecisionLink(props: { decisionId: string; children: ReactNode }) {
  return (
    <Link to="/decisions/$decisionId" params={{ decisionId: props.decisionId }}>
      {props.children}
    </Link>
  );
}
