import { useSuspenseQueries } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import { provedLoss } from '../../../api/calc/facts/cupellation-from-record.ts';
import type { BalanceRecord } from '../../../api/schemas/balance.ts';
import type { Cupellation } from '../../../api/schemas/cupellation.ts';
import { balancesQuery, cupellationQuery } from '../../lib/bench-queries.ts';
import type { Formatter } from '../../lib/format.ts';
import { useFormat } from '../../lib/owner.ts';
import { Facts } from '../../parts/facts.tsx';
import { FindingList } from '../../parts/finding-list.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Page } from '../../parts/page.tsx';
import { CorrectionForm } from './correction-form.tsx';
import { Proofs } from './proofs.tsx';

const metals = [
  ['Au', 'Gold'],
  ['Ag', 'Silver'],
] as const;

/** How losses in cupelling are corrected for in every test smelt, and the proofs that tell them. */
export function CupellationPage() {
  const [cupellation, balances] = useSuspenseQueries({ queries: [cupellationQuery, balancesQuery] });
  return (
    <Page title="Losses in cupelling">
      <Lead>{sentenceOf(cupellation.data)}</Lead>
      <p>
        Cupel and muffle keep a little of the metal: of silver 1 to 3 %, of gold less (common practice). A
        test smelt may be corrected for it, so that it compares with a laboratory that corrects its own; a bar
        or a button that is sold has lost nothing in a cupel.
      </p>
      <ProvedLosses cupellation={cupellation.data} balances={balances.data} />
      <CorrectionForm cupellation={cupellation.data} />
      <Proofs cupellation={cupellation.data} balances={balances.data} />
      <Notice level="caution">
        Cupelling gives off lead fume: extraction, gloves, no food or smoke, blood lead tests. Used cupels are
        hazardous waste in many places; local codes go first.
      </Notice>
      <p>
        <Link to="/settings">Back to the settings</Link>
      </p>
    </Page>
  );
}

function sentenceOf({ correction }: Cupellation): string {
  if (correction === 'off') return 'Test smelts are not corrected for losses in cupelling.';
  return correction === 'stated'
    ? 'Every test smelt is corrected for losses in cupelling, by the losses stated here.'
    : 'Every test smelt is corrected for losses in cupelling, by what the proofs show.';
}

/** What the proofs show for each metal. */
function ProvedLosses(props: { cupellation: Cupellation; balances: readonly BalanceRecord[] }) {
  const { cupellation, balances } = props;
  const format = useFormat();
  if (cupellation.proofs.length === 0) return null;
  const proved = metals.map(([metal, name]) => ({
    name,
    n: cupellation.proofs.filter((proof) => proof.metal === metal).length,
    ...provedLoss(cupellation, metal, balances),
  }));
  return (
    <>
      <Facts
        facts={proved
          .filter(({ n }) => n > 0)
          .map(({ name, n, lossFrac }) => ({
            label: `${name} lost, by ${n === 1 ? 'one proof' : `${n} proofs`}`,
            value: lossText(lossFrac, format),
          }))}
      />
      <FindingList label="About the proofs" findings={proved.flatMap(({ findings }) => findings)} />
    </>
  );
}

const lossText = (lossFrac: { value: number; u: number } | null, format: Formatter): string =>
  lossFrac === null
    ? 'not known'
    : format.measured({ value: 100 * lossFrac.value, u: 100 * lossFrac.u }, '%');
