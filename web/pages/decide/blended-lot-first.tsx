import { Link } from '@tanstack/react-router';

/** What stands where a lot's decision would be recorded: a blend is worked only as a lot of its own. */
export function BlendedLotFirst() {
  return (
    <section aria-label="To work this blend">
      <h2>To work this blend</h2>
      <p>
        This is a what-if; its address can be kept and sent. To record a decision or to plan a batch, make the
        blend a lot of its own first: <Link to="/lots/new">enter a new lot</Link> made from these lots, so
        that their masses are taken out and the books know where it came from. Then decide about that lot. A
        sample of the blend itself tells more than the lots apart.
      </p>
    </section>
  );
}
