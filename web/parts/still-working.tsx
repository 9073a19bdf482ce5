import { useState } from 'react';
import type { Report } from '../../reports/model/report.ts';
import { isBeingWorkedOut } from '../../reports/model/report.ts';

/** Says that a report is being completed by itself, and when it is complete; nothing where it was so from the start. */
export function StillWorking({ report }: { report: Report }) {
  const working = isBeingWorkedOut(report);
  const [everWorked, setEverWorked] = useState(working);
  if (working && !everWorked) setEverWorked(true);
  if (!everWorked && !working) return null;
  return (
    <p role="status" className="muted">
      {working
        ? 'The figures on this page complete themselves as they are worked out; there is nothing to do.'
        : 'All is worked out now.'}
    </p>
  );
}
