import { decideDrawn } from '../../api/calc/economics/decide.ts';
import { drawDecision } from '../../api/calc/economics/simulate.ts';
import type { BlendPart } from '../../api/calc/facts/blend.ts';
import { inOrder, workBlend, workParts } from '../../api/calc/facts/blend.ts';
import type { LotQuestion } from '../../api/calc/facts/decide-lot.ts';
import { blendQuestion, decideQuestion, isBlocked, lotQuestion } from '../../api/calc/facts/decide-lot.ts';
import type { DecisionDepth } from '../../api/calc/facts/decision-depth.ts';
import { workDepth } from '../../api/calc/facts/decision-depth.ts';
import type { LotEvidence } from '../../api/calc/facts/lot-evidence.ts';
import type {
  DecideMessage,
  DecideRequest,
  ScenarioAnswer,
  ScenarioQuestion,
} from '../lib/decide-messages.ts';

/** Between pieces of work a newer request gets its turn at least this often. */
const TURN_MS = 40;

/** What the lots say does not change with prices, costs and masses: it is worked once for the facts, draws and seed at hand. */
let worked: { key: string; evidence: Map<string, LotEvidence> } | null = null;
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

type Asked = Pick<DecideRequest, 'facts' | 'assumptions' | 'dryMassKg' | 'leftKg' | 'others'>;

function evidenceOf({ facts, assumptions, dryMassKg, leftKg, others }: Asked): Map<string, LotEvidence> {
  const parts: BlendPart[] = [{ facts, dryMassKg, leftKg }, ...others];
  const allFacts = parts.map((part) => part.facts);
  const key = JSON.stringify([allFacts, assumptions.drawCount, assumptions.seed]);
  if (worked === null || worked.key !== key) {
    const ofParts = workParts(parts, assumptions);
    worked = { key, evidence: new Map(ofParts.map(({ part, evidence }) => [part.facts.lot.id, evidence])) };
    scenariosByKey.clear();
  }
  return worked.evidence;
}

function questionOf(asked: Asked): LotQuestion {
  const { facts, assumptions, dryMassKg, leftKg, others } = asked;
  const known = evidenceOf(asked);
  const evidenceFor = (lotId: string) => known.get(lotId)!;
  if (others.length === 0) return lotQuestion(facts, assumptions, dryMassKg, evidenceFor(facts.lot.id));
  const parts = inOrder([{ facts, dryMassKg, leftKg }, ...others]);
  const blend = workBlend(parts.map((part) => ({ part, evidence: evidenceFor(part.facts.lot.id) })));
  return blendQuestion(blend, assumptions);
}

function scenarioAnswer(request: DecideRequest, scenario: ScenarioQuestion): ScenarioAnswer {
  const { name, assumptions, dryMassKg } = scenario;
  const masses = request.others.map((other) => other.dryMassKg);
  const key = JSON.stringify([assumptions, dryMassKg, masses]);
  const known = scenariosByKey.get(key);
  if (known !== undefined) return { ...known, name };
  const { decision, findings } = decideQuestion(questionOf({ ...request, assumptions, dryMassKg }));
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
  const { assumptions, dryMassKg, number, scenarios, others } = request;
  const question = questionOf(request);
  const { evidence } = question;
  const drawn = drawDecision(question.input);
  const decision = decideDrawn(drawn);
  const { findings } = question;
  const { summary, findings: evidenceFindings } = evidence.inference;
  post({
    kind: 'decision',
    answer: {
      number,
      about: { ...question.facts.lot, subject: question.input.subject ?? null },
      decision,
      prices: question.input.prices,
      findings,
      summary,
      evidenceFindings,
    },
  });

  const isOld = (): boolean => newest !== number;
  const answers: ScenarioAnswer[] = [];
  for (const scenario of scenarios) {
    await letOthersIn();
    if (isOld()) return;
    answers.push(scenarioAnswer(request, scenario));
  }
  post({ kind: 'scenarios', number, scenarios: answers });
  if (isBlocked({ decision, findings })) return;

  const key = JSON.stringify([worked?.key, assumptions, dryMassKg, others.map((other) => other.dryMassKg)]);
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
