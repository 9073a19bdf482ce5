import { useState } from 'react';
import { keepPreviousData, useQuery, useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import { api, send } from '../../api.ts';
import type { StatementSummary } from '../../../api/schemas/statement.ts';
import { lotQuery } from '../../lib/bench-queries.ts';
import {
  batchesToSettleQuery,
  batchOfProductQuery,
  statementsOfProductsQuery,
  termsQuery,
} from '../../lib/book-queries.ts';
import { useOwner } from '../../lib/owner.ts';
import { shipmentOfProductQuery } from '../../lib/production-queries.ts';
import { todayHere } from '../../lib/today.ts';
import { useAsked } from '../../lib/use-asked.ts';
import { useSettled } from '../../lib/use-settled.ts';
import { Lead } from '../../parts/lead.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Page } from '../../parts/page.tsx';
import { PageLinks } from '../../parts/page-links.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { ChooseProduct } from './choose-product.tsx';
import { fitsProduct, issuedFor, settleable, termsFor } from './products.ts';
import type { Settleable } from './products.ts';
import { statementQuery } from './settlement-queries.ts';
import { allowedStages, stageNames, usualStage } from './stages.ts';
import type { Stage, StatementDraft } from './statement-draft.ts';
import { StatementForm } from './statement-form.tsx';
import { firstStatement, followingStatement } from './starting-statement.ts';

/** A new statement: for the product that the address names, or one to be chosen. */
export function NewStatementPage() {
  const productId = useAsked('product');
  const { data: batch } = useSuspenseQuery(batchOfProductQuery(productId));
  const found = settleable(batch === null ? [] : [batch]).find(({ product }) => product.id === productId);
  if (found === undefined)
    return (
      <Page title="New statement">
        <Lead>Which bar or parcel is to be settled?</Lead>
        <FindProduct />
      </Page>
    );
  return <StatementOf key={productId} {...found} />;
}

/** The newest bars and parcels, older ones by page or by what is typed. */
function FindProduct() {
  const after = useAsked('after');
  const [typed, setTyped] = useState('');
  const sought = useSettled(typed.trim());
  const { data: newest } = useSuspenseQuery(batchesToSettleQuery('made', '', after));
  const { data: found } = useQuery({
    ...batchesToSettleQuery('made', sought, ''),
    enabled: sought !== '',
    placeholderData: keepPreviousData,
  });
  const page = sought === '' || found === undefined ? newest : found;
  return (
    <>
      {after === '' && newest.next === null ? null : (
        <div className="fields">
          <TextField
            label="Find a product"
            hint="Part of its code, or of the code of its batch or lot."
            maxLength={120}
            value={typed}
            onChange={setTyped}
          />
        </div>
      )}
      {page.rows.length === 0 && sought !== '' ? (
        <p role="status">Nothing fits “{sought}”.</p>
      ) : (
        <ChooseProduct products={settleable(page.rows)} />
      )}
      {sought === '' ? <PageLinks of="products" after={after} next={newest.next} /> : null}
    </>
  );
}

function StatementOf(props: Settleable) {
  const { product, batch } = props;
  const { data: statements } = useSuspenseQuery(statementsOfProductsQuery([product.id]));
  const issued = issuedFor(statements, product.id);
  const drafts = statements.filter((one) => one.productId === product.id && one.status === 'draft');
  const latest = issued.at(-1);
  return (
    <Page title={`New statement for ${product.code}`}>
      <Lead>
        {latest === undefined
          ? `${product.code} of batch ${batch.code} has no statement yet.`
          : `It follows ${latest.number}, ${stageNames[latest.stage].toLowerCase()}: what was entered there is filled in, to be changed where it is known better.`}
      </Lead>
      {drafts.map((draft) => (
        <Notice level="note" key={draft.id}>
          There is a draft already.{' '}
          <Link to="/settlements/$statementId" params={{ statementId: draft.id }}>
            Go on with that draft
          </Link>
          .
        </Notice>
      ))}
      {latest === undefined ? (
        <First product={product} batch={batch} issued={issued} />
      ) : (
        <Following product={product} batch={batch} issued={issued} latest={latest} />
      )}
    </Page>
  );
}

/** The stage that the address asks for where it may come next. */
function useStage(issued: readonly StatementSummary[], usual: Stage): Stage {
  const asked = useAsked('stage');
  return allowedStages(issued).find((stage) => stage === asked) ?? usual;
}

function First(props: Settleable & { issued: readonly StatementSummary[] }) {
  const { product, batch, issued } = props;
  const owner = useOwner();
  const { data: lot } = useSuspenseQuery(lotQuery(batch.lotId));
  const { data: shipment } = useSuspenseQuery(shipmentOfProductQuery(product.id));
  const { data: allTerms } = useSuspenseQuery(termsQuery);
  const offered = termsFor(allTerms, product, [batch.termsId]).filter((one) => fitsProduct(one, product));
  const terms = offered.find((one) => one.id === batch.termsId) ?? (offered.length === 1 ? offered[0] : null);
  const stage = useStage(issued, usualStage(issued, terms?.body));
  const initial = firstStatement({
    product,
    lot,
    terms: terms ?? null,
    stage,
    today: todayHere(),
    owner,
    shipment,
  });
  return <NewForm initial={initial} offered={offered} issued={issued} />;
}

function Following(props: Settleable & { issued: readonly StatementSummary[]; latest: StatementSummary }) {
  const { product, issued, latest } = props;
  const owner = useOwner();
  const { data: before } = useSuspenseQuery(statementQuery(latest.id));
  const { data: shipment } = useSuspenseQuery(shipmentOfProductQuery(product.id));
  const { data: allTerms } = useSuspenseQuery(termsQuery);
  const terms = allTerms.find((one) => one.id === before.termsId);
  const stage = useStage(issued, usualStage(issued, terms?.body));
  const initial = followingStatement(before.entry, { stage, today: todayHere(), owner, shipment });
  return (
    <NewForm initial={initial} offered={termsFor(allTerms, product, [before.termsId])} issued={issued} />
  );
}

function NewForm(props: {
  initial: StatementDraft;
  offered: ReturnType<typeof termsFor>;
  issued: readonly StatementSummary[];
}) {
  const { initial, offered, issued } = props;
  return (
    <StatementForm
      formName={`statement/new/${initial.productId}/${issued.length}`}
      initial={initial}
      terms={offered}
      issued={issued}
      saveLabel="Save as a draft"
      save={(entry) => send(api.statements.$post({ json: entry }))}
    />
  );
}
