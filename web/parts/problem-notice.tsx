import type { ReactNode } from 'react';
import type { Problem } from '../api.ts';
import { dateTimeText } from '../lib/format.ts';

/** What went wrong between the page and the server, with the reference under which the server logged it. */
export function ProblemNotice(props: { problem: Problem; children?: ReactNode }) {
  const { problem, children } = props;
  return (
    <div className="problem" role="alert">
      <h2>{problem.title}</h2>
      {problem.detail === '' ? null : <p>{problem.detail}</p>}
      {problem.errors.length === 0 ? null : (
        <ul>
          {problem.errors.map(({ pointer, detail }) => (
            <li key={`${pointer} ${detail}`}>{detail}</li>
          ))}
        </ul>
      )}
      {(problem.changes ?? []).map(({ at, actor, fields }) => (
        <div key={`${at} ${actor}`}>
          <p>
            {actor}, {dateTimeText(new Date(at))}:
          </p>
          <ul>
            {fields.map(({ pointer, label, from, to }) => (
              <li key={pointer}>
                {label}: {from ?? 'nothing'} → {to ?? 'nothing'}
              </li>
            ))}
          </ul>
        </div>
      ))}
      {problem.requestId === '' ? null : (
        <p className="problem-reference">Reference in the server’s log: {problem.requestId}</p>
      )}
      {children}
    </div>
  );
}
