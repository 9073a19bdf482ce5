import { elementAssays } from '../../../api/calc/facts/lot-assays.ts';
import type { ElementAssays } from '../../../api/calc/facts/lot-assays.ts';
import type { Measured } from '../../../api/calc/measured.ts';
import type { Lot } from '../../../api/schemas/lot.ts';
import type { Formatter } from '../../lib/format.ts';
import { useFormat } from '../../lib/owner.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { FindingList } from '../../parts/finding-list.tsx';

/** Said beside each single result already. */
const saidAbove = 'lab-uncertainty-not-stated';

function gradeText({ unit }: ElementAssays, measured: Measured | null, format: Formatter): string {
  if (measured === null) return 'none can be used';
  return unit === 'g/t' ? format.measuredQuantity('gradeGpt', measured) : format.measured(measured, unit);
}

function spreadText({ unit, together, laboratories }: ElementAssays, format: Formatter): string {
  if (laboratories.length < 2) return 'one laboratory';
  if (together.betweenLabSd === 0) return 'none beyond what they state';
  return unit === 'g/t'
    ? format.quantity('gradeGpt', Number(together.betweenLabSd.toPrecision(2)))
    : `${format.significant(together.betweenLabSd, 2)} ${unit}`;
}

/** Each laboratory with its mean and how much it counts: "A 905 (54 %), B 960 of 2 (46 %)". */
function weightsText({ laboratories, together }: ElementAssays, format: Formatter): string {
  return laboratories
    .map(({ laboratory, value, n }, place) => {
      const weight = format.percent(together.weights[place] ?? 0, 0);
      return `${laboratory}: ${format.significant(value, 4)}${n > 1 ? `, mean of ${n}` : ''}, counts ${weight}`;
    })
    .join('; ');
}

/** Elements that were assayed more than once: what the results say together, and how far the laboratories differ. */
export function CombinedAssays(props: { lot: Lot }) {
  const { lot } = props;
  const format = useFormat();
  const elements = [...new Set(lot.labAssays.map(({ element }) => element))];
  const assays = elements.flatMap((element) => elementAssays(lot.labAssays, element) ?? []);
  const several = assays.filter(
    ({ laboratories }) => laboratories.length > 1 || laboratories.some(({ n }) => n > 1),
  );
  const findings = assays.flatMap((one) => one.findings.filter(({ code }) => code !== saidAbove));
  return (
    <>
      {several.length === 0 ? null : (
        <DataTable
          caption="Assayed more than once: the results together, ± two standard uncertainties"
          narrow="stack"
          columns={[
            { key: 'element', label: 'Element', align: 'start' },
            { key: 'together', label: 'Together', align: 'end' },
            { key: 'spread', label: 'Spread between laboratories', align: 'end' },
          ]}
          rows={several.map((one) => ({
            key: one.element,
            cells: {
              element: one.element,
              together: gradeText(one, one.together.combined, format),
              spread: spreadText(one, format),
            },
            detail: weightsText(one, format),
          }))}
        />
      )}
      <FindingList label="About the lab assays" findings={findings} />
    </>
  );
}
