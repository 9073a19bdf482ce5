import { useState } from 'react';
import type { ReactNode } from 'react';
import type { Decision } from '../../../api/calc/economics/decide.ts';
import { scenariosSentence } from '../../../api/calc/facts/compare-scenarios.ts';
import type { ScenarioAnswer } from '../../lib/decide-messages.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { Range } from '../../parts/range.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { keptNames, readKept, whatIfOf, writeKept } from './page-state.ts';
import type { KeptName, KeptWhatIf, PageState } from './page-state.ts';
import { whatIsChanged } from './what-if-words.ts';

/** The name of the column of the what-if that the page shows. */
const NOW = 'As set now';

interface Column {
  slot: KeptName | null;
  name: string;
  whatIf: KeptWhatIf['whatIf'];
  answer: ScenarioAnswer | null;
}

/** What-ifs that were kept, beside the present one. All of them are about the lot and the day of the page. */
export function Scenarios(props: {
  values: PageState;
  set: (name: keyof PageState, value: string) => void;
  decision: Decision;
  currency: string;
  answers: readonly ScenarioAnswer[];
  /** What is typed can be read. */
  canKeep: boolean;
}) {
  const { values, set, decision, currency, answers, canKeep } = props;
  const { massUnit } = useOwner();
  const [name, setName] = useState('');
  const present = whatIfOf(values);
  const kept = keptNames.flatMap((slot): Column[] => {
    const read = readKept(values[slot]);
    if (read === null) return [];
    return [{ slot, ...read, answer: answers.find((one) => one.name === values[slot]) ?? null }];
  });
  const now: Column = {
    slot: null,
    name: NOW,
    whatIf: present,
    answer: { name: NOW, sentence: decision.sentence, best: decision.options[0] ?? null },
  };
  const columns = [...kept, now];
  const free = keptNames.find((slot) => values[slot] === '');
  const compared = columns.map((column) => ({
    name: column.name,
    best: column.answer?.best
      ? { name: column.answer.best.name, meanNetValue: column.answer.best.netValue.mean }
      : null,
  }));
  const sentence = scenariosSentence(compared, currency);
  const keep = (): void => {
    if (free === undefined || !canKeep) return;
    set(
      free,
      writeKept(name.trim() === '' ? whatIsChanged(present, { currency, massUnit }) : name.trim(), present),
    );
    setName('');
  };
  return (
    <details open={kept.length > 0}>
      <summary>Scenarios side by side</summary>
      {kept.length === 0 ? (
        <p>
          Keep what is set now as a column, change a price or a cost, and see both beside each other. They
          stay in the address of this page.
        </p>
      ) : (
        <>
          {sentence === '' ? null : <p>{sentence}</p>}
          <div className="scenarios">
            <ScenarioTable columns={columns} values={values} set={set} currency={currency} />
          </div>
        </>
      )}
      {free === undefined ? (
        <p>Three are kept beside what is set now. Remove one to keep another.</p>
      ) : (
        <div className="keep-scenario">
          <TextField
            label="Name of what is set now"
            hint="Empty: what it changes."
            maxLength={60}
            value={name}
            onChange={setName}
          />
          <button type="button" aria-disabled={!canKeep} onClick={keep}>
            Keep as a column
          </button>
        </div>
      )}
    </details>
  );
}

function ScenarioTable(props: {
  columns: readonly Column[];
  values: PageState;
  set: (name: keyof PageState, value: string) => void;
  currency: string;
}) {
  const { columns, set, currency } = props;
  const format = useFormat();
  const { massUnit } = useOwner();
  const keyOf = (column: Column): string => column.slot ?? 'now';
  const row = (label: string, cell: (column: Column) => ReactNode) => ({
    key: label,
    cells: { label, ...Object.fromEntries(columns.map((column) => [keyOf(column), cell(column)])) },
  });
  const pending = 'being worked out';
  return (
    <DataTable
      caption="Scenarios side by side, for the same lot and day"
      narrow="stack"
      columns={[
        { key: 'label', label: 'What', align: 'start' },
        ...columns.map((column) => ({ key: keyOf(column), label: column.name, align: 'start' as const })),
      ]}
      rows={[
        row('What is changed', ({ whatIf }) => whatIsChanged(whatIf, { currency, massUnit })),
        row('Best option', ({ answer }) => (answer === null ? pending : (answer.best?.name ?? 'none'))),
        row('Its net value', ({ answer }) =>
          answer === null || answer.best === null ? (
            '–'
          ) : (
            <Range
              range={{
                low: answer.best.netValue.p10,
                median: answer.best.netValue.p50,
                high: answer.best.netValue.p90,
              }}
              unit={currency}
            />
          ),
        ),
        row('It is the best in', ({ answer }) =>
          answer === null || answer.best === null ? '–' : format.chance(answer.best.chanceBestFrac),
        ),
        row('In words', ({ answer }) => answer?.sentence ?? pending),
        row('Change', (column) => {
          const { slot, name, whatIf } = column;
          if (slot === null) return '';
          return (
            <span className="actions">
              <button
                type="button"
                aria-label={`Set the page to ${name}`}
                onClick={() => {
                  for (const [field, typed] of Object.entries(whatIf))
                    set(field as keyof KeptWhatIf['whatIf'], typed);
                }}
              >
                Set it
              </button>
              <button
                type="button"
                className="plain"
                aria-label={`Remove ${name}`}
                onClick={() => set(slot, '')}
              >
                Remove
              </button>
            </span>
          );
        }),
      ]}
    />
  );
}
