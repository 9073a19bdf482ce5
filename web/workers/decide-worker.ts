import { decideDrawn } from '../../api/calc/economics/decide.ts';
import { drawDecision } from '../../api/calc/economics/simulate.ts';
import { decideLot, isBlocked, lotQuestion } from '../../api/calc/facts/decide-lot.ts';
import type { DecisionDepth } from '../../api/calc/facts/decision-depth.ts';
import { workDepth } from '../../api/calc/facts/decision-depth.ts';
import { workLot } from '../../api/calc/facts/lot-evidence.ts';
import type { LotEvidence } from '../../api/calc/facts/lot-evidence.ts';
import type { DecisionFacts } from '../../api/calc/facts/records.ts';
import type {
  DecideMessage,
  DecideRequest,
  ScenarioAnswer,
  ScenarioQuestion,
} from '../lib/decide-messages.ts';

/** Between pieces of work a newer request gets its turn at least this often. */
const TURN_MS = 40;

/** The lot's evidence does not change with prices and costs: it is worked once for the facts, draws and seed at hand. */
let worked: { key: string; facts: DecisionFacts; evidence: LotEvidence } | null = null;
/** What was worked out for a question is at hand when only the kept what-ifs change. */
let lastDepth: { key: string; depth: DecisionDepth } | null = null;
const scenariosByKey = new Map<string, ScenarioAnswer>();
let newest = 0;

const post = (message: DecideMessage): void => self.postMessage(message);

const turns = new MessageChannel();
let waiting: (() => void)[] = [];
turns.port1.onmessage = () => {
  const resumed = waiting;
  waiting = [];
  for (const resume of resumed) resume();
};

/** Lets messages in that have arrived meanwhile; unlike a timer it does not wait. */
function letOthersIn(): Promise<void> {
  return new Promise((resolve) => {
    waiting.push(resolve);
    turns.port2.postMessage(null);
  });
}

function evidenceOf({ facts, assumptions }: Pick<DecideRequest, 'facts' | 'assumptions'>): LotEvidence {
  const key = JSON.stringify([facts, assumptions.drawCount, assumptions.seed]);
  if (worked === null || worked.key !== key) {
    worked = { key, facts, evidence: workLot(facts, assumptions) };
    scenariosByKey.clear();
  }
  return worked.evidence;
}

function scenarioAnswer(facts: DecisionFacts, scenario: ScenarioQuestion): ScenarioAnswer {
  const { name, assumptions, dryMassKg } = scenario;
  const key = JSON.stringify([assumptions, dryMassKg]);
  const known = scenariosByKey.get(key);
  if (known !== undefined) return { ...known, name };
  const { decision, findings } = decideLot(facts, assumptions, dryMassKg, evidenceOf({ facts, assumptions }));
  const blocked = isBlocked({ decision, findings });
  const [best] = decision.options;
  const answer: ScenarioAnswer = {
    name,
    sentence: blocked ? 'Nothing can be said of this case.' : decision.sentence,
    best: blocked || best === undefined ? null : best,
  };
  scenariosByKey.set(key, answer);
  return answer;
}

async function work(request: DecideRequest): Promise<void> {
  const { facts, assumptions, dryMassKg, number, scenarios } = request;
  const evidence = evidenceOf(request);
  const question = lotQuestion(facts, assumptions, dryMassKg, evidence);
  const drawn = drawDecision(question.input);
  const decision = decideDrawn(drawn);
  const { findings } = question;
  const { summary, findings: evidenceFindings } = evidence.inference;
  post({
    kind: 'decision',
    answer: { number, decision, prices: question.input.prices, findings, summary, evidenceFindings },
  });

  const isOld = (): boolean => newest !== number;
  const answers: ScenarioAnswer[] = [];
  for (const scenario of scenarios) {
    await letOthersIn();
    if (isOld()) return;
    answers.push(scenarioAnswer(facts, scenario));
  }
  post({ kind: 'scenarios', number, scenarios: answers });
  if (isBlocked({ decision, findings })) return;

  const key = JSON.stringify([worked?.key, assumptions, dryMassKg]);
  if (lastDepth?.key === key) {
    post({ kind: 'depth', number, depth: lastDepth.depth });
    return;
  }
  const depthWork = workDepth(question, drawn, decision);
  for (;;) {
    await letOthersIn();
    if (isOld()) return;
    const until = performance.now() + TURN_MS;
    let step = depthWork.next();
    while (step.done !== true && performance.now() < until) step = depthWork.next();
    post({ kind: 'depth', number, depth: step.value });
    if (step.done === true) {
      lastDepth = { key, depth: step.value };
      return;
    }
  }
}

self.onmessage = ({ data }: MessageEvent<DecideRequest>) => {
  newest = data.number;
  work(data).catch((error: unknown) => self.reportError(error));
};
