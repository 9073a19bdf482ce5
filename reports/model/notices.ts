import type { Finding } from '../../api/calc/finding.ts';
import type { Block } from './report.ts';

type Notice = Extract<Block, { kind: 'notice' }>;

export function notice(level: Notice['level'], text: string): Notice {
  return { kind: 'notice', level, text };
}

/** Findings that say that something is not worked out yet. */
const BEING_WORKED_OUT = new Set(['grades-being-worked-out', 'corrections-being-worked-out']);

const LEVELS: Record<Finding['level'], Notice['level']> = {
  note: 'note',
  warning: 'warning',
  blocker: 'caution',
};

/** What a calculation had to say, boxed; what must not be used is a caution. */
export function findingNotices(findings: readonly Finding[]): Notice[] {
  return findings.map((finding) => ({
    ...notice(LEVELS[finding.level], finding.sentence),
    ...(BEING_WORKED_OUT.has(finding.code) ? { passing: true } : {}),
  }));
}
