import { useSuspenseQuery } from '@tanstack/react-query';
import { Link, useParams } from '@tanstack/react-router';
import { Dec } from '../../../api/calc/money.ts';
import { gramsPerTroyOunce } from '../../../api/calc/units.ts';
import type { Batch } from '../../../api/schemas/batch.ts';
import { lotQuery, suppliesQuery, treatmentsQuery } from '../../lib/bench-queries.ts';
import { batchQuery } from '../../lib/book-queries.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { treatmentCautions } from '../../lib/treatment-cautions.ts';
import { Cautions } from '../../parts/cautions.tsx';
import { DataTable } from '../../parts/data-table.tsx';
import { Facts } from '../../parts/facts.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { ChangesLink } from '../audit/changes-link.tsx';
import { DecisionLink } from '../decisions/decision-link.tsx';
import { ChangePlan, SupersededPlans } from './change-plan.tsx';
import { ActualsForm } from './actuals-form.tsx';
import { CostTable, WasteNote } from './batch-costs.tsx';
import { stageWords, statusWords, wayOf } from './batch-words.ts';
import { Products } from './products.tsx';

/** What a batch brings net once what is held back is paid: what its forecast speaks of. */
const netWithHeldBack = (actualNetValue: string, heldBack: string): string =>
  new Dec(actualNetValue).plus(heldBack).toFixed(2);

/** How what came stands to what was expected, in one sentence. */
function standing(batch: Batch, money: (amount: string) => string): string {
  const { p10, p90 } = batch.forecast.netValue;
  if (batch.status === 'cancelled')
    return `Batch ${batch.code} was cancelled; its mass went back to the lot.`;
  if (batch.actualNetValue === null || batch.settled === null)
    return `Batch ${batch.code} is ${statusWords[batch.status]}; nothing has been settled yet.`;
  const { heldBack, stage } = batch.settled;
  const actual = netWithHeldBack(batch.actualNetValue, heldBack);
  const place = Number(actual) < p10 ? 'below' : Number(actual) > p90 ? 'above' : 'within';
  const held =
    Number(heldBack) === 0 ? '' : `, with the ${money(heldBack)} held back until the final statement`;
  return `Batch ${batch.code} has brought ${money(actual)} net (${stageWords[stage]}${held}), ${place} the range that was forecast.`;
}

/** One batch: what was expected when it was planned, what came of it, and what it has cost. */
export function BatchPage() {
  const { batchId } = useParams({ from: '/batches/$batchId' });
  const { data: batch } = useSuspenseQuery(batchQuery(batchId));
  const { data: lot } = useSuspenseQuery(lotQuery(batch.lotId));
  const { data: supplies } = useSuspenseQuery(suppliesQuery);
  const { data: treatments } = useSuspenseQuery(treatmentsQuery);
  const format = useFormat();
  const treatment = treatments.find((one) => one.id === batch.treatmentId) ?? null;
  const money = (amount: string): string => format.money(amount, batch.currency);
  return (
    <Page title={`Batch ${batch.code}`}>
      <Lead>{standing(batch, money)}</Lead>
      <Facts
        facts={[
          {
            label: 'Lot',
            value: (
              <Link to="/lots/$lotId" params={{ lotId: batch.lotId }}>
                {batch.lotCode}
              </Link>
            ),
          },
          { label: 'Dry mass', value: format.quantity('lotMassKg', batch.dryMassKg) },
          { label: 'Treatment', value: wayOf(batch) },
          {
            label: 'Terms',
            value: (
              <Link to="/terms/$termsId" params={{ termsId: batch.termsId }}>
                {batch.counterpartyName}: {batch.termsName}
              </Link>
            ),
          },
          { label: 'Planned on', value: format.date(batch.plannedOn) },
          ...(batch.decisionId === null
            ? []
            : [
                {
                  label: 'Carries out',
                  value: <DecisionLink decisionId={batch.decisionId}>a recorded decision</DecisionLink>,
                },
              ]),
          { label: 'Status', value: statusWords[batch.status] },
        ]}
      />
      {treatment === null ? null : (
        <p className="actions">
          <Link className="button" to="/batches/$batchId/charge-sheet" params={{ batchId: batch.id }}>
            Charge sheet
          </Link>
        </p>
      )}
      <ForecastTable batch={batch} />
      <WasteNote batch={batch} treatment={treatment} />
      {batch.superseded.length === 0 ? null : <SupersededPlans batch={batch} />}
      {batch.status === 'planned' && batch.products.length === 0 ? (
        <ChangePlan key={`plan ${batch.id} ${batch.version}`} batch={batch} leftKg={lot.leftKg} />
      ) : null}
      <Products batch={batch} />
      {batch.status === 'cancelled' ? null : (
        <ActualsForm
          key={`${batch.id} ${batch.version}`}
          batch={batch}
          supplies={supplies}
          treatment={treatment}
        />
      )}
      <CostTable batch={batch} />
      {treatment === null ? null : (
        <Cautions cautions={treatmentCautions([treatment], supplies, lot.minerals)} />
      )}
      <ChangesLink record={batch.id} />
    </Page>
  );
}

/** Forecast frozen at planning against what was settled and weighed. */
function ForecastTable({ batch }: { batch: Batch }) {
  const format = useFormat();
  const { forecast, currency } = batch;
  const { metalUnit } = useOwner();
  const perOzt = metalUnit === 'g' ? gramsPerTroyOunce : 1;
  const row = (
    label: string,
    { unit, factor = 1 }: { unit: string; factor?: number },
    { p10, p50, p90 }: Batch['forecast']['netValue'],
    actual: string,
  ) => {
    const texts = format.range({ low: p10 * factor, median: p50 * factor, high: p90 * factor }, unit);
    return { cells: { label, low: texts.low, median: texts.median, high: texts.high, actual } };
  };
  const unsettled = batch.status === 'cancelled' ? 'nothing: cancelled' : 'not settled yet';
  const bars = batch.products.filter((product) => product.kind === 'bar');
  /** Payable by the newest statement; until there is one, what the bars hold by our own assay. */
  const ounces = (payable: string | null, fineness: 'goldFinenessFrac' | 'silverFinenessFrac'): string => {
    if (payable !== null)
      return metalUnit === 'ozt'
        ? `${payable} ozt`
        : format.quantity('metalMassG', Number(payable) * gramsPerTroyOunce, 1);
    if (bars.length === 0) return unsettled;
    if (bars.some((bar) => bar[fineness] === null)) return 'not assayed yet';
    const grams = bars.reduce((sum, bar) => sum + Number(bar.massKg) * 1000 * Number(bar[fineness]), 0);
    return `${format.quantity('metalMassG', grams, metalUnit === 'ozt' ? 3 : 1)} in bars, by own assay`;
  };
  return (
    <>
      <DataTable
        caption="Forecast, frozen when the batch was planned, against actual"
        narrow="stack"
        columns={[
          { key: 'label', label: '', align: 'start' },
          { key: 'low', label: 'Low (10 %)', align: 'end' },
          { key: 'median', label: 'Median', align: 'end' },
          { key: 'high', label: 'High (90 %)', align: 'end' },
          { key: 'actual', label: 'Actual', align: 'end' },
        ]}
        rows={[
          row(
            'Net value',
            { unit: currency },
            forecast.netValue,
            batch.actualNetValue === null || batch.settled === null
              ? unsettled
              : format.money(netWithHeldBack(batch.actualNetValue, batch.settled.heldBack), currency),
          ),
          row(
            'Payable gold',
            { unit: metalUnit, factor: perOzt },
            forecast.goldPayableOzt,
            ounces(batch.payableGoldOzt, 'goldFinenessFrac'),
          ),
          row(
            'Payable silver',
            { unit: metalUnit, factor: perOzt },
            forecast.silverPayableOzt,
            ounces(batch.payableSilverOzt, 'silverFinenessFrac'),
          ),
        ]}
      />
      <p className="muted">
        Of ten outcomes eight should lie from low to high: one in ten below, one in ten above.
      </p>
      <p>
        Said when it was planned: {forecast.sentence} This choice was the best in{' '}
        {format.chance(forecast.chanceBestFrac)}.
      </p>
    </>
  );
}
