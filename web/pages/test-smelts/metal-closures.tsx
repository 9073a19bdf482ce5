import type { SmeltClosure } from '../../../api/calc/facts/close-smelt.ts';
import { useFormat } from '../../lib/owner.ts';
import { percentMeasured } from '../../lib/worked-tests.ts';
import { DataTable } from '../../parts/data-table.tsx';
import type { DataRow } from '../../parts/data-table.tsx';
import { FindingList } from '../../parts/finding-list.tsx';

const names = { Au: 'gold', Ag: 'silver' } as const;

/** Where gold and silver of a test smelt went, as far as products and lot were assayed. */
export function MetalClosures(props: { closures: readonly SmeltClosure[] }) {
  const { closures } = props;
  const format = useFormat();
  if (closures.length === 0)
    return (
      <>
        <h2>Where the metal went</h2>
        <p>
          Only the bead is known. With a lab assay of the lot, or of this test’s matte and slag, what was left
          behind shows here.
        </p>
      </>
    );
  const rows = closures.flatMap(({ metal, closure }): DataRow[] => {
    const { shares, foundMg, headMg, unaccountedMg, closureFrac } = closure;
    const mg = (measured: typeof foundMg): string => format.measured(measured, 'mg');
    return [
      { key: metal, style: 'section', cells: { where: metal === 'Au' ? 'Gold' : 'Silver' } },
      ...shares.map((share) => ({
        key: `${metal} ${share.name}`,
        cells: {
          where: share.name === 'bead' ? 'Bead' : share.name === 'matte' ? 'Matte' : 'Slag',
          mass: mg(share.metalMg),
          share: percentMeasured(share.shareFrac, format),
        },
      })),
      {
        key: `${metal} found`,
        style: 'subtotal',
        cells: { where: 'Found', mass: mg(foundMg), share: '100 %' },
      },
      ...(headMg === null || unaccountedMg === null
        ? []
        : [
            {
              key: `${metal} head`,
              cells: {
                where: 'In the sample, by lab assay of the lot',
                mass: mg(headMg),
                share: '',
              },
              detail: `Of this, ${percentMeasured(closureFrac, format)} was found.`,
            },
            {
              key: `${metal} left`,
              cells: {
                where: 'Not accounted for',
                mass: mg(unaccountedMg),
                share: '',
              },
            },
          ]),
    ];
  });
  const findings = closures.flatMap(({ findings: own }) => own);
  return (
    <>
      <h2>Where the metal went</h2>
      <p>
        {closures
          .map(
            ({ metal, closure }) =>
              `${percentMeasured(closure.recoveryFrac, format)} of the ${names[metal]} ${
                closure.headMg === null ? 'that was found' : 'that the laboratory finds in the lot'
              } came into the bead`,
          )
          .join('; ')}
        .
      </p>
      <DataTable
        caption="Where the metal went, ± two standard uncertainties"
        narrow="stack"
        columns={[
          { key: 'where', label: 'Where', align: 'start' },
          { key: 'mass', label: 'Metal', align: 'end' },
          { key: 'share', label: 'Share of what was found', align: 'end' },
        ]}
        rows={rows}
      />
      <FindingList label="About where the metal went" findings={findings} />
    </>
  );
}
