import type { ReactNode } from 'react';

/** The sentence for a reader in a hurry; stands before the figures. */
export function Lead(props: { children: ReactNode }) {
  return <p className="lead">{props.children}</p>;
}
