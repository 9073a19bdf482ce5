import type { Block, Report } from '../../reports/model/report.ts';
import { DataTable } from './data-table.tsx';
import { Facts } from './facts.tsx';
import { Lead } from './lead.tsx';
import { Notice } from './notice.tsx';
import { FittingScene } from './scene-figure.tsx';

/** A report as a page: the same model that the PDF is painted from. */
export function ReportView(props: { report: Report }) {
  const { report } = props;
  return (
    <article className="report" lang={report.language} aria-label={report.runningHead}>
      <h2 className="report-title">{report.title}</h2>
      {report.subtitle === '' ? null : <p className="report-subtitle">{report.subtitle}</p>}
      {report.demoNotice === null ? null : <p className="report-demo">{report.demoNotice}</p>}
      <ReportBlocks blocks={report.blocks} />
    </article>
  );
}

/** Blocks of a report within a page. */
export function ReportBlocks(props: { blocks: readonly Block[] }) {
  return props.blocks.map((block, index) => <BlockView key={index} block={block} />);
}

function BlockView(props: { block: Block }) {
  const { block } = props;
  switch (block.kind) {
    case 'heading':
      return <h3>{block.text}</h3>;
    case 'lead':
      return <Lead>{block.text}</Lead>;
    case 'paragraph':
      return <p>{block.text}</p>;
    case 'facts':
      return <Facts facts={block.facts} />;
    case 'steps':
      return (
        <ol className="report-steps">
          {block.steps.map((step) => (
            <li key={step}>{step}</li>
          ))}
        </ol>
      );
    case 'page':
      return null;
    case 'table':
      return block.toFillIn === true ? (
        <details className="report-form">
          <summary>
            {block.caption} ({block.rows.length} {block.rows.length === 1 ? 'row' : 'rows'}, to fill in on
            paper)
          </summary>
          <DataTable caption={block.caption} columns={block.columns} rows={block.rows} boxed />
        </details>
      ) : (
        <DataTable caption={block.caption} columns={block.columns} rows={block.rows} narrow="stack" />
      );
    case 'chart':
      return (
        <figure className="scene-figure">
          <figcaption>{block.scene.title}</figcaption>
          <FittingScene {...block} />
        </figure>
      );
    case 'notice':
      return <Notice level={block.level}>{block.text}</Notice>;
    case 'signatures':
      return (
        <div className="report-signatures">
          {block.parties.map((party) => (
            <p key={party}>{party}</p>
          ))}
        </div>
      );
  }
}
