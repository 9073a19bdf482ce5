import { weighingUncertaintyG } from '../../../api/calc/assay/weighing.ts';
import type { BalanceRecord, Supply } from '../../../api/schemas/supply.ts';
import type { TestSmeltRecord } from '../../../api/schemas/test-smelt.ts';
import { useFormat } from '../../lib/owner.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { Facts } from '../../parts/facts.tsx';

const notWeighed = 'not weighed';

/** Every mass of a test as it was typed, with the balance that showed it and what that balance can tell apart. */
export function WeighingTable(props: {
  record: TestSmeltRecord;
  balances: readonly BalanceRecord[];
  supplies: readonly Supply[];
}) {
  const { record, balances, supplies } = props;
  const format = useFormat();
  const nameOf = (supplyId: string): string =>
    supplies.find((one) => one.id === supplyId)?.name ?? 'a supply that is gone';
  const row = (label: string, mass: number | null, unit: 'g' | 'mg', balanceId: string) => {
    const balance = balances.find((one) => one.id === balanceId);
    const uG =
      balance === undefined
        ? null
        : weighingUncertaintyG({
            name: balance.name,
            readabilityG: Number(balance.readabilityG),
            repeatabilityG: Number(balance.repeatabilityG),
          });
    return {
      cells: {
        what: label,
        // Digit by digit as it was typed: a weighing is a record, not a result.
        mass: mass === null ? notWeighed : `${mass} ${unit}`,
        plusMinus:
          mass === null || uG === null
            ? ''
            : `± ${format.significant(2 * uG * (unit === 'mg' ? 1000 : 1), 2)} ${unit}`,
        balance: mass === null ? '' : (balance?.name ?? ''),
      },
    };
  };
  const bench = (label: string, massG: number | null) => row(label, massG, 'g', record.sampleBalanceId);
  const bead = (label: string, massMg: number | null) => row(label, massMg, 'mg', record.beadBalanceId);
  return (
    <>
      <DataTable
        caption="Every weighing, ± two standard uncertainties of the balance"
        narrow="stack"
        columns={[
          { key: 'what', label: 'What', align: 'start' },
          { key: 'mass', label: 'Mass', align: 'end' },
          { key: 'plusMinus', label: '±', align: 'end' },
          { key: 'balance', label: 'Balance', align: 'start' },
        ]}
        rows={[
          bench('Sample, dry, as received', record.sampleMassG),
          ...(record.roasted
            ? [
                bench('Before the roast', record.massBeforeRoastG),
                bench('After the roast', record.massAfterRoastG),
              ]
            : []),
          bench('Collector lead', record.collectorLeadG),
          ...record.reagents.map(({ supplyId, massG }) => bench(nameOf(supplyId), massG)),
          bench('Iron in', record.ironInG),
          bench('Iron out', record.ironOutG),
          bench('Button', record.buttonG),
          bench('Matte and speiss', record.matteG),
          bench('Slag', record.slagG),
          bead('Bead', record.beadMg),
          bead('Parted gold', record.partedGoldMg),
        ]}
      />
      <Facts
        facts={[
          {
            label: 'Roast',
            value: record.roasted
              ? `${record.roastHours === null ? 'time not noted' : `${record.roastHours} h`}, ${
                  record.roastTempC === null
                    ? 'temperature not noted'
                    : format.quantity('tempC', record.roastTempC)
                }`
              : 'not roasted',
          },
          {
            label: 'Crucible',
            value: record.crucibleVolumeMl === null ? 'volume not noted' : `${record.crucibleVolumeMl} mL`,
          },
          {
            label: 'Blank',
            value:
              record.blankMgPerLeadG === null
                ? 'none'
                : `${record.blankMgPerLeadG} mg of silver per g of lead, standard uncertainty ${
                    record.blankStandardUncertaintyMgPerLeadG ?? 'not given'
                  }`,
          },
        ]}
      />
    </>
  );
}
