import { useState } from 'react';
import { Link } from '@tanstack/react-router';
import { monthOf } from '../../../api/calc/calendar.ts';
import type { Season } from '../../../api/schemas/mill.ts';
import { todayHere } from '../../lib/today.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { ArchiveDownload } from './archive-download.tsx';

type Choice = 'season' | 'own' | `${number}-${number}`;

/** First days of the months of a season, newest first, up to today. */
function monthsOf({ startsOn, endsOn }: Season, today: string): string[] {
  const months: string[] = [];
  const last = endsOn < today ? endsOn : today;
  for (let { from } = monthOf(startsOn); from <= last; { from } = monthOf(from, 1)) months.push(from);
  return months.toReversed();
}

/** The accountant's package of a season, a month or days of one's own choice. */
export function AccountantPackage(props: { season: Season }) {
  const { season } = props;
  const [choice, setChoice] = useState<Choice>('season');
  const [own, setOwn] = useState({ from: season.startsOn, to: season.endsOn });
  const period =
    choice === 'season'
      ? { from: season.startsOn, to: season.endsOn }
      : choice === 'own'
        ? own
        : monthOf(`${choice}-01`);
  const isWhole = period.from !== '' && period.from <= period.to;
  return (
    <section aria-labelledby="for-the-accountant">
      <h2 id="for-the-accountant">For the accountant</h2>
      <p>
        One archive with a workbook (XLSX), the same tables as CSV, and the PDFs of the statements: sales with
        their adjustments, deductions, royalties and taxes, purchases, stocks, receivables, and a journal with{' '}
        <Link to="/settings/accounts">your account codes</Link>. The sheet Checks holds every total against
        the statements.
      </p>
      <Fieldset legend="Which days">
        <ChoiceField
          label="Period"
          value={choice}
          onChange={setChoice}
          choices={[
            { value: 'season', label: `Season ${season.name}` },
            ...monthsOf(season, todayHere()).map((day) => ({
              value: day.slice(0, 7) as Choice,
              label: `Month ${day.slice(0, 7)}`,
            })),
            { value: 'own', label: 'Other days' },
          ]}
        />
        {choice !== 'own' ? null : (
          <>
            <DateField
              label="First day"
              required
              value={own.from}
              onChange={(from) => setOwn({ ...own, from })}
            />
            <DateField
              label="Last day"
              required
              min={own.from}
              value={own.to}
              onChange={(to) => setOwn({ ...own, to })}
            />
          </>
        )}
      </Fieldset>
      {isWhole ? (
        <ArchiveDownload
          key={`${period.from} ${period.to}`}
          address={`/api/accountant-package?from=${period.from}&to=${period.to}`}
          label="Download for the accountant (ZIP)"
          busyLabel="Making the accountant’s files"
          savedWords="The files were"
        />
      ) : (
        <p>Choose a first day and a last day that is not before it.</p>
      )}
    </section>
  );
}
