import type { BreakEven } from '../../../api/calc/economics/break-even.ts';
import type { DecisionDepth } from '../../../api/calc/facts/decision-depth.ts';
import { useFormat } from '../../lib/owner.ts';
import { DataTable } from '../../parts/data-table.tsx';

const turns = ({ crossings }: BreakEven): boolean => crossings.length > 0;
const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** At which price, grade, recovery, charge or wage the two best options change places. */
export function WhereItTurns(props: { between: NonNullable<DecisionDepth['between']> }) {
  const { first, second, breakEvens } = props.between;
  if (second === null)
    return <p>With a single option there is no order that could turn. Whether it pays stands below.</p>;
  const gold = breakEvens.find(({ id }) => id === 'price/Au');
  const others = breakEvens.filter((one) => turns(one) && one !== gold).length;
  return (
    <>
      <p>
        {gold?.sentence}{' '}
        {others === 0
          ? `Nothing else that was looked at, taken alone within its range, makes “${second}” better than “${first}”.`
          : `What else turns the answer follows, the nearest first.`}
      </p>
      <TurnTable caption={`Where “${second}” overtakes “${first}”`} breakEvens={breakEvens} />
    </>
  );
}

/** Where the best option stops paying, or begins to. */
export function WhereItStopsPaying(props: { alone: NonNullable<DecisionDepth['alone']> }) {
  const { first, pays, breakEvens } = props.alone;
  const [nearest] = breakEvens.filter(turns);
  return (
    <>
      <h3>{pays ? `Where “${first}” stops paying` : `Where “${first}” begins to pay`}</h3>
      <p>
        {nearest === undefined
          ? `Nothing that was looked at, taken alone within its range, brings the net value of “${first}” to zero.`
          : nearest.sentence}
      </p>
      <TurnTable caption={`Where the net value of “${first}” is zero`} breakEvens={breakEvens} />
    </>
  );
}

/** So many are shown at once; the others are a touch away. */
const NEAREST = 5;

function TurnTable(props: { caption: string; breakEvens: readonly BreakEven[] }) {
  const { caption, breakEvens } = props;
  const turning = breakEvens.filter(turns);
  const never = breakEvens.filter((one) => !turns(one));
  const farther = turning.slice(NEAREST);
  return (
    <>
      {turning.length === 0 ? null : <Turns caption={caption} turning={turning.slice(0, NEAREST)} />}
      {farther.length === 0 ? null : (
        <details>
          <summary>{farther.length} more that turn it, farther from where they are now</summary>
          <Turns caption={`${caption}, farther off`} turning={farther} />
        </details>
      )}
      {never.length === 0 ? null : (
        <details>
          <summary>What never turns it within the range looked at ({never.length})</summary>
          <ul>
            {never.map((one) => (
              <li key={one.id}>{one.sentence}</li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
}

function Turns(props: { caption: string; turning: readonly BreakEven[] }) {
  const { caption, turning } = props;
  const format = useFormat();
  const figure = (value: number): string => format.significant(value, 3);
  return (
    <DataTable
      caption={`${caption}, all else as it is`}
      narrow="stack"
      columns={[
        { key: 'what', label: 'What', align: 'start' },
        { key: 'turn', label: 'Turns at', align: 'end' },
        { key: 'now', label: 'Now', align: 'end' },
        { key: 'unit', label: 'Unit', align: 'start' },
      ]}
      rows={turning.map((one) => ({
        key: one.id,
        cells: {
          what: capital(one.label),
          turn: one.crossings.map(figure).join(' and '),
          now: figure(one.today),
          unit: one.unit,
        },
        detail: one.sentence,
      }))}
    />
  );
}
