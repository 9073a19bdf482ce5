import type { Report } from '../../reports/model/report.ts';
import { isBeingWorkedOut } from '../../reports/model/report.ts';

const SOONEST_MS = 1500;
const LATEST_MS = 15_000;

/** How long to wait before a report that is still being worked out is asked for again, longer each time; false: it is done. */
export function askAgainAfterMs(report: Report | undefined, answers: number): number | false {
  if (report === undefined || !isBeingWorkedOut(report)) return false;
  return Math.min(LATEST_MS, SOONEST_MS * 1.5 ** Math.max(0, answers - 1));
}
