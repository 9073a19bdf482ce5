import { queryOptions, useSuspenseQuery } from '@tanstack/react-query';
import type { Lot } from '../../../api/schemas/lot.ts';
import { api, sendPage } from '../../api.ts';
import { behind } from '../../lib/list-page.ts';
import { useFormat } from '../../lib/owner.ts';
import { useActor } from '../../lib/session.ts';
import { useAsked } from '../../lib/use-asked.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { PageLinks } from '../../parts/page-links.tsx';

const ownLotsQuery = (after: string) =>
  queryOptions({
    queryKey: ['lots', 'own', after],
    queryFn: () => sendPage(api.lots.$get({ query: { newestFirst: 'true', ...behind(after) } })),
  });

const ownStatementsQuery = (after: string) =>
  queryOptions({
    queryKey: ['statements', 'own', after],
    queryFn: () => sendPage(api.statements.$get({ query: { newestFirst: 'true', ...behind(after) } })),
  });

/** What a customer of the mill sees: their own lots and the statements issued to them. */
export function CustomerPage() {
  const { name } = useActor();
  const afterLot = useAsked('lots');
  const afterStatement = useAsked('statements');
  const { data: ownLots } = useSuspenseQuery(ownLotsQuery(afterLot));
  const { data: ownStatements } = useSuspenseQuery(ownStatementsQuery(afterStatement));
  const [lots, statements] = [ownLots.rows, ownStatements.rows];
  const format = useFormat();
  const mass = (kg: string): string => format.quantity('lotMassKg', kg);
  return (
    <Page title="Your lots and statements">
      <Lead>
        The mill shows {name} {ownLots.next === null && afterLot === '' ? '' : 'here '}
        {lots.length === 1 ? 'one lot' : `${lots.length} lots`} and{' '}
        {statements.length === 1 ? 'one statement' : `${statements.length} statements`}.
      </Lead>
      <DataTable
        caption="Lots, newest first"
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
      <PageLinks of="lots" name="lots" after={afterLot} next={ownLots.next} />
      <DataTable
        caption="Statements, newest first"
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
      <PageLinks of="statements" name="statements" after={afterStatement} next={ownStatements.next} />
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
