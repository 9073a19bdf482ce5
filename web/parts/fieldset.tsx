import type { ReactNode } from 'react';

/** Fields that belong together, under one heading; they stand beside each other where there is room. */
export function Fieldset(props: {
  legend: string;
  hint?: string;
  /** Close together on a phone: each label beside its field. */
  compact?: boolean;
  children: ReactNode;
}) {
  const { legend, hint, compact = false, children } = props;
  return (
    <fieldset>
      <legend>{legend}</legend>
      {hint === undefined ? null : <p className="fieldset-hint">{hint}</p>}
      <div className={compact ? 'fields compact' : 'fields'}>{children}</div>
    </fieldset>
  );
}
