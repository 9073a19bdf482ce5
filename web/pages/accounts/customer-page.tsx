import { useSuspenseQuery } from '@tanstack/react-query';
import type { Lot } from '../../../api/schemas/lot.ts';
import { lotsQuery } from '../../lib/bench-queries.ts';
import { statementsQuery } from '../../lib/book-queries.ts';
import { useFormat } from '../../lib/owner.ts';
import { useActor } from '../../lib/session.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';

/** What a customer of the mill sees: their own lots and the statements issued to them. */
export function CustomerPage() {
  const { name } = useActor();
  const { data: lots } = useSuspenseQuery(lotsQuery);
  const { data: statements } = useSuspenseQuery(statementsQuery);
  const format = useFormat();
  const mass = (kg: string): string => format.quantity('lotMassKg', kg);
  return (
    <Page title="Your lots and statements">
      <Lead>
        The mill shows {name} {lots.length === 1 ? 'one lot' : `${lots.length} lots`} and{' '}
        {statements.length === 1 ? 'one statement' : `${statements.length} statements`}.
      </Lead>
      <DataTable
        caption="Lots, oldest first"
        narrow="stack"
        empty="The mill has marked no lot as yours yet."
        columns={[
          { key: 'code', label: 'Lot', align: 'start' },
          { key: 'madeOn', label: 'Made on', align: 'start' },
          { key: 'wet', label: 'Wet mass', align: 'end' },
          { key: 'moisture', label: 'Moisture', align: 'end' },
          { key: 'dry', label: 'Dry mass', align: 'end' },
          { key: 'left', label: 'Left, dry', align: 'end' },
          { key: 'assays', label: 'Laboratory assays', align: 'start' },
        ]}
        rows={lots.map((lot) => ({
          key: lot.id,
          cells: {
            code: lot.code,
            madeOn: format.date(lot.madeOn),
            wet: mass(lot.wetMassKg),
            moisture: format.percent(lot.moistureFrac),
            dry: mass(lot.dryMassKg),
            left: mass(lot.leftKg),
            assays: assaysText(lot),
          },
          ...(lot.description === '' ? {} : { detail: lot.description }),
        }))}
      />
      <DataTable
        caption="Statements"
        narrow="stack"
        empty="No statement has been issued to you yet."
        columns={[
          { key: 'number', label: 'Statement', align: 'start' },
          { key: 'issuedOn', label: 'Issued on', align: 'start' },
          { key: 'product', label: 'For', align: 'start' },
          { key: 'stage', label: 'Stage', align: 'start' },
          { key: 'total', label: 'Amount', align: 'end' },
        ]}
        rows={statements.map((statement) => ({
          key: statement.id,
          cells: {
            number: <a href={`/api/statements/${statement.id}/statement.pdf`}>{statement.number} (PDF)</a>,
            issuedOn: statement.issuedOn === null ? '' : format.date(statement.issuedOn),
            product: statement.productCode,
            stage: statement.stage,
            total: `${statement.total} ${statement.currency}`,
          },
        }))}
      />
    </Page>
  );
}

/** "Au 412 g/t, Ag 900 g/t": each as the laboratory gave it. */
function assaysText({ labAssays }: Lot): string {
  return labAssays.length === 0
    ? 'none'
    : labAssays
        .map(({ element, value, unit }) => `${element} ${value} ${unit === 'percent' ? '%' : unit}`)
        .join(', ');
}
