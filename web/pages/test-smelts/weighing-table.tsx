import { Link } from '@tanstack/react-router';
import { weighingUncertaintyG } from '../../../api/calc/assay/weighing.ts';
import { balanceOn, checksAround } from '../../../api/calc/facts/balance-from-record.ts';
import type { BalanceRecord } from '../../../api/schemas/balance.ts';
import type { Supply } from '../../../api/schemas/supply.ts';
import type { TestSmeltRecord } from '../../../api/schemas/test-smelt.ts';
import { useFormat } from '../../lib/owner.ts';
import { DataTable } from '../../parts/data-table.tsx';
import type { DataRow } from '../../parts/data-table.tsx';
import { Facts } from '../../parts/facts.tsx';

/** What was weighed, in the unit of the table's section; null is not weighed. */
type Weighing = readonly [what: string, mass: number | null];

/** Every mass of a test as it was typed, under the balance that showed it. */
export function WeighingTable(props: {
  record: TestSmeltRecord;
  balances: readonly BalanceRecord[];
  supplies: readonly Supply[];
}) {
  const { record, balances, supplies } = props;
  const format = useFormat();
  const nameOf = (supplyId: string): string =>
    supplies.find((one) => one.id === supplyId)?.name ?? 'a supply that is gone';

  function section(balanceId: string, unit: 'g' | 'mg', weighings: readonly Weighing[]): DataRow[] {
    const balance = balances.find((one) => one.id === balanceId);
    if (balance === undefined) throw new Error('The balance of this test smelt is not in the books.');
    const uG = weighingUncertaintyG(balanceOn(balance, record.smeltedOn).balance);
    const { before } = checksAround(balance.checks, 'check-weights', record.smeltedOn);
    const checked =
      before === null ? 'not checked with weights before' : `checked ${format.date(before.checkedOn)}`;
    const plusMinus = `each ± ${format.significant(2 * uG * (unit === 'mg' ? 1000 : 1), 2)} ${unit}`;
    return [
      {
        style: 'section',
        cells: {
          what: (
            <>
              <Link to="/balances/$balanceId" params={{ balanceId }}>
                {balance.name}
              </Link>
              , {plusMinus}, {checked}
            </>
          ),
        },
      },
      ...weighings.map(([what, mass]) => ({
        // Digit by digit as it was typed: a weighing is a record, not a result.
        cells: { what, mass: mass === null ? 'not weighed' : `${mass} ${unit}` },
      })),
    ];
  }
  return (
    <>
      <DataTable
        caption="Every weighing, ± two standard uncertainties"
        columns={[
          { key: 'what', label: 'What', align: 'start' },
          { key: 'mass', label: 'Mass', align: 'end' },
        ]}
        rows={[
          ...section(record.sampleBalanceId, 'g', [
            ['Sample, dry, as received', record.sampleMassG],
            ...(record.roasted
              ? ([
                  ['Before the roast', record.massBeforeRoastG],
                  ['After the roast', record.massAfterRoastG],
                ] as const)
              : []),
            ['Collector lead', record.collectorLeadG],
            ...record.reagents.map(({ supplyId, massG }): Weighing => [nameOf(supplyId), massG]),
            ['Iron in', record.ironInG],
            ['Iron out', record.ironOutG],
            ['Button', record.buttonG],
            ['Matte and speiss', record.matteG],
            ['Slag', record.slagG],
          ]),
          ...section(record.beadBalanceId, 'mg', [
            ['Bead', record.beadMg],
            ['Parted gold', record.partedGoldMg],
            ...(record.inquartSilverMg === null
              ? []
              : ([['Silver added for parting', record.inquartSilverMg]] as const)),
          ]),
        ]}
      />
      <Facts
        facts={[
          { label: 'Roast', value: record.roasted ? roastText(record, format.quantity) : 'not roasted' },
          {
            label: 'Crucible',
            value: record.crucibleVolumeMl === null ? 'volume not noted' : `${record.crucibleVolumeMl} mL`,
          },
          { label: 'Blank', value: blankText(record) },
        ]}
      />
    </>
  );
}

function roastText(
  { roastHours, roastTempC }: TestSmeltRecord,
  quantity: ReturnType<typeof useFormat>['quantity'],
): string {
  const time = roastHours === null ? 'time not noted' : `${roastHours} h`;
  return `${time}, ${roastTempC === null ? 'temperature not noted' : quantity('tempC', roastTempC)}`;
}

function blankText(record: TestSmeltRecord): string {
  const { blankMgPerLeadG: blank, blankStandardUncertaintyMgPerLeadG: u } = record;
  if (blank === null) return 'none';
  return `${blank} mg of silver per g of lead, standard uncertainty ${u === null ? 'not given' : `${u} mg per g`}`;
}
