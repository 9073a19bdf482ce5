import { useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import type { Lot } from '../../../api/schemas/lot.ts';
import type { Season } from '../../../api/schemas/mill.ts';
import type { TestSmeltRecord } from '../../../api/schemas/test-smelt.ts';
import type { WorkedSmelt } from '../../../api/calc/facts/lot-evidence.ts';
import { testedLotsQuery } from '../../lib/bench-queries.ts';
import { useFormat } from '../../lib/owner.ts';
import { useAsked } from '../../lib/use-asked.ts';
import { useSeason } from '../../lib/use-season.ts';
import { useWorkedTrials } from '../../lib/use-worked-trials.ts';
import type { TrialOfLot } from '../../lib/use-worked-trials.ts';
import { gradeTexts, percentMeasured, warningsText } from '../../lib/worked-tests.ts';
import { DataTable } from '../../parts/data-table.tsx';
import type { DataRow } from '../../parts/data-table.tsx';
import { IfOpen } from '../../parts/if-open.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { PageLinks } from '../../parts/page-links.tsx';
import { SeasonChoice } from '../../parts/season-choice.tsx';
import { nextStep } from './steps.tsx';

interface OpenTest {
  place: TrialOfLot;
  record: TestSmeltRecord;
  next: NonNullable<ReturnType<typeof nextStep>>;
}

function openTests(places: readonly TrialOfLot[]): OpenTest[] {
  return places.flatMap((place) =>
    place.trial.smelts.flatMap((record) => {
      const next = nextStep(record);
      return next === null ? [] : [{ place, record, next }];
    }),
  );
}

/** The test smelts of a season, lot by lot and trial by trial; what is not finished first. */
export function TestSmeltsPage() {
  const { seasons, season, choose } = useSeason();
  return (
    <Page title="Test smelts">
      {season === undefined ? (
        <Lead>
          No season is open. <Link to="/settings">Open one in the settings</Link>.
        </Lead>
      ) : (
        <>
          <SeasonChoice seasons={seasons} season={season} choose={choose} />
          <TestsOfSeason season={season} />
        </>
      )}
    </Page>
  );
}

function TestsOfSeason(props: { season: Season }) {
  const after = useAsked('after');
  const { data: page } = useSuspenseQuery(testedLotsQuery(props.season.id, after));
  return (
    <>
      <Tests lots={page.rows} season={props.season} whole={after === '' && page.next === null} />
      <PageLinks of="tested lots" after={after} next={page.next} />
    </>
  );
}

/** The tests of some lots; `whole` where these are all of the season. */
function Tests(props: { lots: readonly Lot[]; season: Season; whole: boolean }) {
  const places = useWorkedTrials(props.lots);
  const all = places.flatMap(({ trial }) => trial.smelts);
  const aside = all.filter((record) => record.setAsideReason !== null).length;
  const open = openTests(places);
  const lots = [...new Map(places.map(({ lot }) => [lot.id, lot])).values()];
  return (
    <>
      {all.length === 0 ? (
        <Lead>
          No test smelt in {props.season.name} yet. <Link to="/test-smelts/new">Enter the first one</Link>: a
          sample of a lot, what it was smelted with, and what came out.
        </Lead>
      ) : (
        <Lead>
          {all.length === 1 ? 'One test smelt' : `${all.length} test smelts`} in{' '}
          {places.length === 1 ? 'one trial' : `${places.length} trials`}
          {aside === 0 ? '' : `, ${aside} of them set aside`}
          {props.whole ? '' : `, of the ${lots.length} lots on this page`};{' '}
          {open.length === 0 ? 'all are finished.' : `${open.length} still to be weighed in.`}
        </Lead>
      )}
      <p className="actions">
        <IfOpen change="POST /test-smelts">
          <Link className="button" to="/test-smelts/new">
            New test smelt
          </Link>
        </IfOpen>
        <IfOpen change="POST /imports/:kind">
          <Link className="button" to="/import">
            Import from a table
          </Link>
        </IfOpen>
      </p>
      {open.length === 0 ? null : (
        <>
          <h2>Go on with</h2>
          <ul>
            {open.map(({ place, record, next }) => (
              <li key={record.id}>
                <Link
                  to="/test-smelts/$smeltId/edit"
                  params={{ smeltId: record.id }}
                  search={{ to: next.step }}
                >
                  {place.lot.code}, {place.trial.name}, test {record.sample}
                </Link>{' '}
                waits for {next.waitsFor}.
              </li>
            ))}
          </ul>
        </>
      )}
      {lots.map((lot) => (
        <LotTests key={lot.id} places={places.filter((place) => place.lot.id === lot.id)} />
      ))}
    </>
  );
}

function LotTests(props: { places: readonly TrialOfLot[] }) {
  const { places } = props;
  const format = useFormat();
  const lot = places[0]?.lot;
  if (lot === undefined) return null;
  const rows = places.flatMap(({ trial, worked }): DataRow[] => [
    {
      key: trial.id,
      style: 'section',
      cells: { test: trial.name },
      detail: (
        <>
          {worked.treatmentName ?? 'No treatment named'}.{' '}
          <IfOpen change="POST /test-smelts">
            <Link to="/test-smelts/new" search={{ trial: trial.id }}>
              Next test of {trial.name}
            </Link>
          </IfOpen>
        </>
      ),
    },
    ...trial.smelts.map((record): DataRow => {
      const smelt = worked.smelts.find((one) => one.id === record.id);
      return {
        key: record.id,
        cells: {
          test: (
            <Link to="/test-smelts/$smeltId" params={{ smeltId: record.id }}>
              Test {record.sample}
            </Link>
          ),
          on: format.date(record.smeltedOn),
          ...(smelt === undefined
            ? {}
            : {
                ...gradeTexts(smelt.result, format),
                lead: percentMeasured(smelt.result.leadReturnFrac, format),
              }),
        },
        detail: smelt === undefined ? '' : detailOf(record, smelt),
      };
    }),
  ]);
  return (
    <>
      <h2>
        <Link to="/lots/$lotId" params={{ lotId: lot.id }}>
          {lot.code}
        </Link>
      </h2>
      <DataTable
        caption={`Test smelts of ${lot.code}, recovered, counted on the dry sample, ± two standard uncertainties`}
        narrow="stack"
        columns={[
          { key: 'test', label: 'Test', align: 'start' },
          { key: 'on', label: 'Smelted on', align: 'start' },
          { key: 'gold', label: 'Gold', align: 'end' },
          { key: 'silver', label: 'Silver', align: 'end' },
          { key: 'lead', label: 'Lead return', align: 'end' },
        ]}
        rows={rows}
      />
    </>
  );
}

function detailOf(record: TestSmeltRecord, smelt: WorkedSmelt): string {
  if (record.setAsideReason !== null) return `Set aside, does not count: ${record.setAsideReason}`;
  return [warningsText(smelt), record.remarks].filter((text) => text !== '').join('. ');
}
