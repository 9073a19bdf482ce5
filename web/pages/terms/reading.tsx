import { createContext, useContext, useState } from 'react';
import type { ReactNode } from 'react';
import type { Finding } from '../../../api/calc/finding.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';
import { termsSentences } from '../../../api/calc/terms/terms-sentences.ts';
import { FindingList } from '../../parts/finding-list.tsx';
import type { ReadTerms } from './terms-of-draft.ts';

/** The contract as it stands while it is typed. */
export interface Reading extends ReadTerms {
  findings: readonly Finding[];
}

export const ReadingContext = createContext<Reading | null>(null);

export function useReading(): Reading {
  const reading = useContext(ReadingContext);
  if (reading === null) throw new Error('A clause stands outside the contract editor.');
  return reading;
}

const isWithin = (pointer: string, path: string): boolean =>
  pointer === path || pointer.startsWith(`${path}/`);

/**
 * Fields of one clause with the sentence that they make beside them, and what is
 * wrong with it. `paths` are the pointers into the contract that the clause answers for.
 */
export function Clause(props: {
  paths: readonly string[];
  /** The clauses' names in `termsSentences`; one that ends with a space stands for all that begin with it. */
  says: readonly string[];
  /** The contract with only this row of a list, so that only its sentence is read. */
  only?: (terms: Terms) => Terms;
  /** With a title the fields are folded in under it, until the clause is incomplete when it first stands. */
  title?: string;
  children: ReactNode;
}) {
  const { paths, says, only = (terms) => terms, title, children } = props;
  const { terms, incomplete, findings } = useReading();
  const unread = incomplete.some((pointer) => paths.some((path) => isWithin(pointer, path)));
  const sentences = unread
    ? []
    : termsSentences(only(terms)).filter(({ clause }) =>
        says.some((name) => (name.endsWith(' ') ? clause.startsWith(name) : clause === name)),
      );
  const [startsOpen] = useState(unread);
  const fields = <div className="fields">{children}</div>;
  return (
    <div className="clause wide">
      {title === undefined ? (
        fields
      ) : (
        <details open={startsOpen}>
          <summary>{title}</summary>
          {fields}
        </details>
      )}
      <div className="clause-reading">
        {unread ? (
          <p className="muted">Something is still empty here. Fill it in, and the clause reads here.</p>
        ) : (
          sentences.map(({ sentence }) => <p key={sentence}>{sentence}</p>)
        )}
        {unread ? null : (
          <FindingList
            label="Remarks on this clause"
            findings={findings.filter(({ path }) => paths.some((clause) => isWithin(path, clause)))}
          />
        )}
      </div>
    </div>
  );
}

/** What is wrong with a list of clauses as a whole. */
export function ListRemarks(props: { path: string }) {
  const { findings } = useReading();
  return <FindingList findings={findings.filter(({ path }) => path === props.path)} />;
}
