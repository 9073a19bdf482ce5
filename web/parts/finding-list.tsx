import type { Finding } from '../../api/calc/finding.ts';

const words: Record<Finding['level'], string> = { note: 'Note', warning: 'Warning', blocker: 'Stop' };
const signs: Record<Finding['level'], string> = { note: 'i', warning: '!', blocker: '×' };
const order: readonly Finding['level'][] = ['blocker', 'warning', 'note'];

/** What a calculation has to say about its inputs: the gravest first, each with a word and a sign. */
export function FindingList(props: { findings: readonly Finding[]; label?: string }) {
  const { findings, label = 'Remarks' } = props;
  if (findings.length === 0) return null;
  const sorted = findings.toSorted((a, b) => order.indexOf(a.level) - order.indexOf(b.level));
  return (
    <ul className="finding-list" aria-label={label}>
      {sorted.map((finding, index) => (
        <li className={`finding finding-${finding.level}`} key={`${finding.code} ${finding.path} ${index}`}>
          <span className="finding-sign" aria-hidden="true">
            {signs[finding.level]}
          </span>
          <span>
            <span className="finding-word">{words[finding.level]}.</span> {finding.sentence}
          </span>
        </li>
      ))}
    </ul>
  );
}
