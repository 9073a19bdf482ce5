import { useCallback, useMemo, useState } from 'react';
import { queryOptions, useQueries, useQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import { api, send } from '../../api.ts';
import { useDecision } from '../../lib/use-decision.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { storedOf } from '../../lib/quantities.ts';
import { parseDecimal } from '../../lib/parse-decimal.ts';
import { useLots, usualLot } from '../../lib/use-lots.ts';
import { useSearchState } from '../../lib/use-search-state.ts';
import { Busy } from '../../parts/busy.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Page } from '../../parts/page.tsx';
import { QuantityField } from '../../parts/quantity-field.tsx';
import { isBlocked } from '../../../api/calc/facts/decide-lot.ts';
import { USUAL_INQUIRY_COSTS } from '../../../api/calc/facts/inquiries.ts';
import { LotField } from '../lots/lot-field.tsx';
import { AnswerHead, AnswerOptions, AnswerRest } from './answer.tsx';
import { bookedMassKg, bookedParts, readOthers } from './blend-address.ts';
import { BlendFields } from './blend-fields.tsx';
import { BlendedLotFirst } from './blended-lot-first.tsx';
import { Depth } from './depth.tsx';
import { cannotBeRead, keptNames, readCosts, readKept, startingPage, whatIfOf } from './page-state.ts';
import { RecordDecision } from './record-decision.tsx';
import { Scenarios } from './scenarios.tsx';
import { readWhatIf, startingWhatIf } from './what-if.ts';
import type { WhatIf } from './what-if.ts';
import { WhatIfFields } from './what-if-fields.tsx';

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
  const { values, set } = useSearchState(startingPage);
  const whatIf = whatIfOf(values);
  const from = useLots([values.lot, ...readOthers(values.with).map(({ lotId }) => lotId)]);
  const { lots } = from;
  const lot = lots.find((one) => one.id === values.lot || one.code === values.lot) ?? usualLot(from);
  const facts = useQuery(factsQuery(lot?.id ?? '', values.on));

  /** A mass of a lot: all that is left unless one is typed; null where it cannot be read. */
  const massOfLot = useCallback(
    (one: { leftKg: string } | undefined, typed: string): number | null => {
      if (one === undefined || !parseDecimal(typed, owner).ok) return null;
      return Number(typed === '' ? one.leftKg : storedOf('lotMassKg', typed, owner));
    },
    [owner],
  );
  const massOf = useCallback((typed: string) => massOfLot(lot, typed), [lot, massOfLot]);
  const isBlend = values.with !== '';
  const othersFacts = useQueries({
    queries: readOthers(values.with).map(({ lotId }) => factsQuery(lotId, values.on)),
    combine: (found) => found.map(({ data }) => data),
  });
  /** The other lots of a blend; null while one of them cannot be read. */
  const others = useMemo(() => {
    const parts = readOthers(values.with).map(({ lotId, mass }, place) => {
      const one = lots.find(({ id }) => id === lotId);
      const dryMassKg = massOfLot(one, mass);
      const found = othersFacts[place];
      if (one === undefined || found === undefined || dryMassKg === null || !(dryMassKg > 0)) return null;
      return { facts: found, dryMassKg, leftKg: Number(one.leftKg) };
    });
    return parts.some((part) => part === null) ? null : parts.flatMap((part) => part ?? []);
  }, [values.with, lots, massOfLot, othersFacts]);
  const massKg = massOf(values.mass);
  const massOfAll =
    massKg === null || others === null
      ? null
      : others.reduce((sum, { dryMassKg }) => sum + dryMassKg, massKg);
  const asked = JSON.stringify([whatIf, keptNames.map((slot) => values[slot])]);
  const question = useMemo(() => {
    const [present, kept] = JSON.parse(asked) as [WhatIf, string[]];
    const assumptions = readWhatIf(present, owner);
    const dryMassKg = massOf(present.mass);
    if (facts.data === undefined || assumptions === null || dryMassKg === null || !(dryMassKg > 0))
      return null;
    if (others === null || lot === undefined) return null;
    const scenarios = keptNames.flatMap((_slot, place) => {
      const written = kept[place] ?? '';
      const one = readKept(written);
      const read = one && readWhatIf({ ...startingWhatIf, ...one.whatIf }, owner);
      const mass = one && massOf(one.whatIf.mass);
      return read && mass ? [{ name: written, assumptions: read, dryMassKg: mass }] : [];
    });
    return { facts: facts.data, assumptions, dryMassKg, leftKg: Number(lot.leftKg), others, scenarios };
  }, [facts.data, asked, massOf, owner, others, lot]);
  /** The books are here, and it is what was typed that stands in the way. */
  const unreadable =
    facts.data !== undefined &&
    cannotBeRead(asked, [values.mass, ...readOthers(values.with).map(({ mass }) => mass)], owner);
  const state = useDecision(question);
  const { answer, stale, failure } = state;
  if (failure !== null) throw failure;
  const costsRead = readCosts(values, owner);
  const [costs, setCosts] = useState(costsRead ?? USUAL_INQUIRY_COSTS);
  // A cost that cannot be read leaves the ranking as it was; its field says what is wrong.
  if (costsRead !== null && JSON.stringify(costsRead) !== JSON.stringify(costs)) setCosts(costsRead);
  const shown =
    answer === null || facts.data === undefined
      ? null
      : { answer, facts: facts.data, stale: stale || question === null };
  const changed = Object.entries(startingWhatIf).some(
    ([name, start]) => name !== 'lot' && whatIf[name as keyof WhatIf] !== start,
  );
  const reset = (): void => {
    for (const [name, start] of Object.entries(startingWhatIf))
      if (name !== 'lot') set(name as keyof WhatIf, start);
  };

  if (lots.length === 0)
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
            <LotField label="Lot" value={lot?.id ?? ''} onChange={(id) => set('lot', id)} from={from} />
            <QuantityField
              label="Dry mass to decide about"
              quantity="lotMassKg"
              hint={
                lot === undefined
                  ? undefined
                  : `Empty: all that is left, ${format.quantity('lotMassKg', Number(lot.leftKg))}.`
              }
              value={values.mass}
              onChange={(typed) => set('mass', typed)}
            />
            {lot === undefined || lots.length < 2 ? null : (
              <BlendFields
                first={lot}
                from={from}
                written={values.with}
                set={(written) => set('with', written)}
              />
            )}
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
            ) : unreadable ? (
              <p role="status">
                Something under <em>What if</em>, or a mass, cannot be read as a number or is out of range.
                Correct or empty it, and the answer follows.
              </p>
            ) : (
              <Busy label="Working the options out" />
            )
          ) : (
            <AnswerHead {...shown} massKg={massOfAll ?? Number(shown.facts.lot.dryMassKg)} />
          )}
        </div>
        <div className="decide-what-if">
          <WhatIfFields
            values={whatIf}
            set={set}
            reset={reset}
            changed={changed}
            prices={answer?.prices ?? null}
          />
        </div>
        <div className="decide-figures">
          {shown === null ? null : (
            <>
              <AnswerOptions {...shown} batchLink={isBlend ? null : { ...whatIf, lot: shown.facts.lot.id }} />
              {isBlocked(shown.answer) ? null : (
                <>
                  <Depth
                    state={{ ...state, stale: shown.stale }}
                    costs={costs}
                    currency={shown.facts.currency}
                    subject={shown.answer.about.subject}
                    values={values}
                    set={set}
                  />
                  <Scenarios
                    values={values}
                    set={set}
                    decision={shown.answer.decision}
                    currency={shown.facts.currency}
                    answers={state.scenarios}
                    canKeep={question !== null}
                  />
                </>
              )}
              <AnswerRest {...shown}>
                {isBlocked(shown.answer) || lot === undefined ? null : isBlend ? (
                  <BlendedLotFirst
                    parts={bookedParts(
                      [{ lotId: lot.id, mass: values.mass }, ...readOthers(values.with)],
                      lots,
                      owner,
                    )}
                  />
                ) : (
                  <RecordDecision
                    key={lot.id}
                    lotId={lot.id}
                    decision={shown.answer.decision}
                    toRecord={
                      question === null
                        ? null
                        : {
                            lotId: lot.id,
                            decidedOn: shown.facts.on,
                            dryMassKg: bookedMassKg(values.mass, lot, owner),
                            assumptions: question.assumptions,
                            inquiryCosts: costs,
                          }
                    }
                  />
                )}
              </AnswerRest>
            </>
          )}
        </div>
      </div>
    </Page>
  );
}
