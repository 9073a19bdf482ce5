import type { ReactNode } from 'react';

/** Fields that belong together, under one heading; they stand beside each other where there is room. */
export function Fieldset(props: { legend: string; hint?: string; children: ReactNode }) {
  const { legend, hint, children } = props;
  return (
    <fieldset>
      <legend>{legend}</legend>
      {hint === undefined ? null : <p className="fieldset-hint">{hint}</p>}
      <div className="fields">{children}</div>
    </fieldset>
  );
}
