import { useSuspenseQuery } from '@tanstack/react-query';
import { Link, useNavigate } from '@tanstack/react-router';
import { api, ifMatch, send } from '../../api.ts';
import type { Lot } from '../../../api/schemas/lot.ts';
import { lotFactsQuery, lotQuery, seasonsQuery, useBooksChanged } from '../../lib/bench-queries.ts';
import { useFormat } from '../../lib/owner.ts';
import { useRecordId } from '../../lib/use-record-id.ts';
import { useLotEvidence } from '../../lib/use-lot-evidence.ts';
import { Busy } from '../../parts/busy.tsx';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { Facts } from '../../parts/facts.tsx';
import { IfOpen } from '../../parts/if-open.tsx';
import { Page } from '../../parts/page.tsx';
import { LotOwner } from '../accounts/lot-owner.tsx';
import { ChangesLink } from '../audit/changes-link.tsx';
import { LotDecisions } from '../decisions/lot-decisions.tsx';
import { LabAssays } from './lab-assays.tsx';
import { LotGrade, LotLead } from './lot-grade.tsx';
import { LotParts } from './lot-parts.tsx';
import { LotSamplingPart } from './lot-sampling.tsx';
import { LotTrials } from './lot-trials.tsx';

/** One lot: its mass, its assays and tests, and what they say together. */
export function LotPage() {
  const lotId = useRecordId('lotId');
  const { data: lot } = useSuspenseQuery(lotQuery(lotId));
  const { data: facts } = useSuspenseQuery(lotFactsQuery(lotId));
  const evidence = useLotEvidence(facts);
  const smeltCount = facts.trials.reduce((sum, trial) => sum + trial.smelts.length, 0);
  return (
    <Page title={`Lot ${lot.code}`}>
      {evidence === null ? (
        <Busy label="Working the tests and assays up" />
      ) : (
        <LotLead lot={lot} evidence={evidence} />
      )}
      <p className="actions">
        <Link className="button" to="/decide" search={{ lot: lot.id }}>
          Decide what to do with it
        </Link>
        <IfOpen change="POST /test-smelts">
          <Link className="button" to="/test-smelts/new" search={{ lot: lot.id }}>
            New test smelt
          </Link>
        </IfOpen>
        <IfOpen change="POST /lots">
          <Link className="button" to="/lots/$lotId/edit" params={{ lotId }}>
            Change the lot
          </Link>
        </IfOpen>
      </p>
      <LotMass lot={lot} />
      <LotParts lot={lot} />
      <LabAssays lot={lot} />
      <h2>Trials and test smelts</h2>
      {smeltCount === 0 ? (
        <p>
          No test smelt of this lot yet.{' '}
          <Link to="/test-smelts/new" search={{ lot: lot.id }}>
            Enter the first
          </Link>
          : even one tells what a treatment can recover at least.
        </p>
      ) : null}
      {evidence === null ? null : <LotTrials lot={lot} trials={evidence.trials} />}
      {evidence === null ? null : <LotGrade lot={lot} evidence={evidence} />}
      {evidence === null ? null : (
        <LotSamplingPart lot={lot} trials={facts.trials} worked={evidence.trials} />
      )}
      <LotDecisions lotId={lot.id} />
      <LotOwner lot={lot} />
      <RemoveLot lot={lot} />
      <ChangesLink record={lot.id} />
    </Page>
  );
}

function LotMass(props: { lot: Lot }) {
  const { lot } = props;
  const format = useFormat();
  const { data: seasons } = useSuspenseQuery(seasonsQuery);
  const mass = (kg: string): string => format.quantity('lotMassKg', kg);
  const minerals = lot.minerals.map(({ mineral, massFrac }) => `${mineral} ${format.percent(massFrac)}`);
  return (
    <>
      <h2>Mass</h2>
      {lot.description === '' ? null : <p>{lot.description}</p>}
      <Facts
        facts={[
          { label: 'Made on', value: format.date(lot.madeOn) },
          { label: 'Season', value: seasons.find((one) => one.id === lot.seasonId)?.name ?? '' },
          { label: 'Wet mass', value: mass(lot.wetMassKg) },
          { label: 'Moisture', value: `${format.percent(lot.moistureFrac)} of wet mass` },
          { label: 'Dry mass', value: mass(lot.dryMassKg) },
          { label: 'Taken by test smelts', value: mass(lot.takenByTestSmeltsKg) },
          {
            label: 'Taken by batches',
            value: (
              <>
                {mass(lot.takenByBatchesKg)} <Link to="/batches">(batches)</Link>
              </>
            ),
          },
          ...(Number(lot.takenByLotsKg) === 0
            ? []
            : [{ label: 'Taken by other lots', value: mass(lot.takenByLotsKg) }]),
          ...(Number(lot.writtenOffKg) === 0
            ? []
            : [{ label: 'Written off', value: mass(lot.writtenOffKg) }]),
          { label: 'Left, dry', value: <strong>{mass(lot.leftKg)}</strong> },
          {
            label: 'Minerals',
            value: minerals.length === 0 ? 'not named; they size the charge' : minerals.join(', '),
          },
          ...(lot.remarks === '' ? [] : [{ label: 'Remarks', value: lot.remarks }]),
        ]}
      />
    </>
  );
}

function RemoveLot(props: { lot: Lot }) {
  const { lot } = props;
  const navigate = useNavigate();
  const booksChanged = useBooksChanged();
  return (
    <div className="actions">
      <ConfirmButton
        sends="DELETE /lots/:id"
        label="Remove this lot"
        question={`Lot ${lot.code} and its lab assays will be gone. A lot that has trials or batches cannot be removed.`}
        confirmLabel={`Remove lot ${lot.code}`}
        onConfirm={async () => {
          await send(api.lots[':id'].$delete({ param: { id: lot.id } }, ifMatch(lot.version)));
          await navigate({ to: '/lots' });
          await booksChanged();
        }}
      />
    </div>
  );
}
