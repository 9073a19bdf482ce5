import { useMemo } from 'react';
import { queryOptions, useQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import { api, send } from '../../api.ts';
import { useDecision } from '../../lib/use-decision.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { storedOf } from '../../lib/quantities.ts';
import { parseDecimal } from '../../lib/parse-decimal.ts';
import { useSearchState } from '../../lib/use-search-state.ts';
import { Busy } from '../../parts/busy.tsx';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Page } from '../../parts/page.tsx';
import { QuantityField } from '../../parts/quantity-field.tsx';
import { AnswerFigures, AnswerHead } from './answer.tsx';
import { readWhatIf, startingWhatIf } from './what-if.ts';
import { WhatIfFields } from './what-if-fields.tsx';

const lotsQuery = queryOptions({ queryKey: ['lots'], queryFn: () => send(api.lots.$get({ query: {} })) });

const factsQuery = (lotId: string, on: string) =>
  queryOptions({
    queryKey: ['decision-facts', lotId, on],
    queryFn: () => send(api.decisions.facts.$get({ query: on === '' ? { lotId } : { lotId, on } })),
    enabled: lotId !== '',
  });

/** Roast or not, smelt or sell: every option for a lot side by side, following what the owner changes. */
export function DecidePage() {
  const owner = useOwner();
  const format = useFormat();
  const { values, set, reset, changed } = useSearchState(startingWhatIf);
  const lots = useQuery(lotsQuery);
  const lot = lots.data?.find((one) => one.id === values.lot || one.code === values.lot) ?? lots.data?.[0];
  const facts = useQuery(factsQuery(lot?.id ?? '', values.on));

  const massTyped = parseDecimal(values.mass, owner);
  const massKg =
    lot === undefined || !massTyped.ok
      ? null
      : values.mass === ''
        ? Number(lot.leftKg)
        : Number(storedOf('lotMassKg', values.mass, owner));
  const assumptions = useMemo(() => readWhatIf(values, owner), [values, owner]);
  const question = useMemo(
    () =>
      facts.data === undefined || assumptions === null || massKg === null || !(massKg > 0)
        ? null
        : { facts: facts.data, assumptions, dryMassKg: massKg },
    [facts.data, assumptions, massKg],
  );
  const { answer, stale, failure } = useDecision(question);
  if (failure !== null) throw failure;
  const shown =
    answer === null || facts.data === undefined
      ? null
      : { answer, facts: facts.data, stale: stale || question === null };

  if (lots.data?.length === 0)
    return (
      <Page title="Decide">
        <p>
          There is no lot to decide about yet. <Link to="/lots/new">Enter a lot</Link>, or{' '}
          <Link to="/import">import</Link> several.
        </p>
      </Page>
    );
  return (
    <Page title="Decide">
      <div className="decide">
        <div className="decide-about">
          <Fieldset legend="About">
            <ChoiceField
              label="Lot"
              value={lot?.id ?? ''}
              onChange={(id) => set('lot', id)}
              choices={(lots.data ?? []).map((one) => ({
                value: one.id,
                label: `${one.code}: ${one.description}`,
              }))}
            />
            <QuantityField
              label="Dry mass to decide about"
              quantity="lotMassKg"
              hint={
                lot === undefined
                  ? undefined
                  : `Empty: all that is left, ${format.quantity('lotMassKg', lot.leftKg)}.`
              }
              value={values.mass}
              onChange={(typed) => set('mass', typed)}
            />
            <DateField
              label="As the books stood on"
              hint="Empty: today. An earlier day takes the prices of that day."
              value={values.on}
              onChange={(day) => set('on', day)}
            />
          </Fieldset>
        </div>
        <div className="decide-head">
          {shown === null ? (
            massKg !== null && massKg <= 0 ? (
              <p>Nothing is left of this lot. Type a mass to see what it would bring.</p>
            ) : (
              <Busy label="Working the options out" />
            )
          ) : (
            <AnswerHead {...shown} massKg={massKg ?? Number(shown.facts.lot.dryMassKg)} />
          )}
        </div>
        <div className="decide-what-if">
          <WhatIfFields
            values={values}
            set={set}
            reset={reset}
            changed={changed}
            prices={answer?.prices ?? null}
          />
        </div>
        <div className="decide-figures">
          {shown === null ? null : (
            <AnswerFigures {...shown} batchLink={{ ...values, lot: shown.facts.lot.id }} />
          )}
        </div>
      </div>
    </Page>
  );
}
