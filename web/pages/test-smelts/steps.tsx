import { useEffect } from 'react';
import type { ReactNode } from 'react';
import type { TestSmeltRecord } from '../../../api/schemas/test-smelt.ts';

/** The parts of the form, in the order of the work; a test is weighed in over days. */
const steps = [
  ['sample', 'Sample'],
  ['charge', 'Charge'],
  ['furnace', 'Out of the furnace'],
  ['bead', 'Bead and gold'],
] as const;
export type Step = (typeof steps)[number][0];

/** What an unfinished test waits for next, and where in the form that stands; null where all is weighed. */
export function nextStep(record: TestSmeltRecord): { waitsFor: string; step: Step } | null {
  if (record.setAsideReason !== null) return null;
  if (record.buttonG === null && record.beadMg === null)
    return { waitsFor: 'button, matte and slag', step: 'furnace' };
  if (record.beadMg === null) return { waitsFor: 'the bead', step: 'bead' };
  return record.partedGoldMg === null ? { waitsFor: 'parting', step: 'bead' } : null;
}

const idOf = (step: string): string => `step-${step}`;

/** Goes to the first field of a part that is still empty, else to its first. */
function goTo(step: string): void {
  const fields = [...document.querySelectorAll<HTMLInputElement>(`#${CSS.escape(idOf(step))} input`)].filter(
    (field) => field.type === 'text',
  );
  const field = fields.find(({ value }) => value === '') ?? fields[0];
  field?.focus({ preventScroll: true });
  field?.scrollIntoView({ block: 'center' });
}

/** Ways to the parts of a long form; `first` is gone to when the form opens. */
export function Steps(props: { first: string | null }) {
  const { first } = props;
  useEffect(() => {
    if (first !== null) goTo(first);
  }, [first]);
  return (
    <nav className="bench-steps" aria-label="Parts of this form">
      {steps.map(([step, label]) => (
        <button key={step} type="button" className="plain" onClick={() => goTo(step)}>
          {label}
        </button>
      ))}
    </nav>
  );
}

export function StepPart(props: { step: Step; children: ReactNode }) {
  const { step, children } = props;
  return <div id={idOf(step)}>{children}</div>;
}
