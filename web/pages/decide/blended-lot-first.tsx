import { Link } from '@tanstack/react-router';
import { writeParts } from '../lots/parts-address.ts';
import { IfOpen } from '../../parts/if-open.tsx';

/** What stands where a lot's decision would be recorded: a blend is worked only as a lot of its own. */
export function BlendedLotFirst(props: { parts: readonly { lotId: string; dryMassKg: string }[] }) {
  const { parts } = props;
  return (
    <section aria-label="To work this blend">
      <h2>To work this blend</h2>
      <p>
        This is a what-if; its address can be kept and sent. To record a decision or to plan a batch, make the
        blend a lot of its own first: then its masses are taken out of the lots, and the books know where it
        came from. A sample of the blend itself tells more than the lots apart.
      </p>
      <p className="actions">
        <IfOpen change="POST /lots">
          <Link className="button" to="/lots/new" search={{ from: writeParts(parts) }}>
            Make it a lot
          </Link>
        </IfOpen>
      </p>
    </section>
  );
}
