import type { Report } from '../../../reports/model/report.ts';

/** A report of one paragraph. */
export function minimalReport(text: string): Report {
  return {
    title: 'Title',
    subtitle: '',
    runningHead: 'Head',
    demoNotice: null,
    language: 'en',
    blocks: [{ kind: 'paragraph', text }],
  };
}
