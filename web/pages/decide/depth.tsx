import type { ReactNode } from 'react';
import type { DecisionDepth } from '../../../api/calc/facts/decision-depth.ts';
import type { InquiryCosts } from '../../../api/calc/facts/inquiries.ts';
import {
  driversOfDifference,
  driversOfDifferenceTable,
} from '../../../reports/charts/drivers-of-difference.ts';
import type { DriversChart } from '../../../reports/charts/drivers-of-difference.ts';
import type { DecisionState } from '../../lib/use-decision.ts';
import { useFormat } from '../../lib/owner.ts';
import { Busy } from '../../parts/busy.tsx';
import { SceneFigure } from '../../parts/scene-figure.tsx';
import { FindOutNext } from './find-out-next.tsx';
import type { CostName, PageState } from './page-state.ts';
import { WhereItStopsPaying, WhereItTurns } from './where-it-turns.tsx';

/** What lies behind the decision, as it comes in; what is of an earlier what-if is shown as such until the newer is there. */
export function Depth(props: {
  state: DecisionState;
  costs: InquiryCosts;
  currency: string;
  /** A blend's name in sentences; null for a lot. */
  subject: string | null;
  values: Pick<PageState, CostName>;
  set: (name: CostName, typed: string) => void;
}) {
  const { state, costs, currency, subject, values, set } = props;
  const { answer, stale, depth } = state;
  const coming = depth.coming !== null && depth.coming.number === answer?.number ? depth.coming.depth : null;
  const isWhole = !stale && coming?.doneFrac === 1;
  /** A part, and whether it is of an earlier what-if. */
  const part = <Name extends keyof DecisionDepth>(name: Name) => ({
    value: coming?.[name] ?? depth.whole?.[name] ?? null,
    old: stale || (coming?.[name] ?? null) === null,
  });
  const information = part('information');
  const between = part('between');
  const alone = part('alone');
  const drivers = part('drivers');
  return (
    <>
      {isWhole ? null : (
        <Busy
          label="Working out what lies behind the decision"
          {...(coming === null || stale ? {} : { done: coming.doneFrac })}
        />
      )}
      <Part label="What to find out next" old={information.value !== null && information.old}>
        <FindOutNext
          information={information.value}
          costs={costs}
          currency={currency}
          subject={subject}
          values={values}
          set={set}
        />
      </Part>
      {between.value === null ? null : (
        <Part label="Where the answer turns" old={between.old}>
          <h2>Where the answer turns</h2>
          <WhereItTurns between={between.value} />
        </Part>
      )}
      {alone.value === null ? null : (
        <Part label="Where it stops paying" old={alone.old}>
          <WhereItStopsPaying alone={alone.value} />
        </Part>
      )}
      {drivers.value === null ? null : (
        <Part label="What it rests on" old={drivers.old}>
          <Drivers found={drivers.value} />
        </Part>
      )}
    </>
  );
}

function Part(props: { label: string; old: boolean; children: ReactNode }) {
  return (
    <section aria-label={props.label} aria-busy={props.old}>
      {props.children}
    </section>
  );
}

/** Shares of the variance of the difference of the two best options. */
function Drivers(props: { found: NonNullable<DecisionDepth['drivers']> }) {
  const { first, second, drivers } = props.found;
  const format = useFormat();
  const of =
    second === null ? `the net value of “${first}”` : `the difference between “${first}” and “${second}”`;
  const chart: DriversChart = { title: `What ${of} rests on`, drivers };
  const [largest] = drivers;
  return (
    <>
      <h2>What the difference rests on</h2>
      <p>
        {largest === undefined || largest.shareFrac < 0.005
          ? `Nothing that is uncertain moves ${of}.`
          : `Knowing the ${largest.label} exactly would take away ${format.percent(largest.shareFrac, 0)} of the uncertainty (the variance) of ${of}.`}
      </p>
      <SceneFigure
        draw={(width) => driversOfDifference(chart, width)}
        table={driversOfDifferenceTable(chart)}
      />
    </>
  );
}
