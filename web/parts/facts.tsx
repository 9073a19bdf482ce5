import type { ReactNode } from 'react';

/** Labels with their values. */
export function Facts(props: { facts: readonly { label: string; value: ReactNode }[] }) {
  return (
    <dl className="facts">
      {props.facts.flatMap(({ label, value }) => [
        <dt key={`${label} label`}>{label}</dt>,
        <dd key={label}>{value}</dd>,
      ])}
    </dl>
  );
}
