import { useEffect, useRef, useState } from 'react';
import type { DecisionDepth } from '../../api/calc/facts/decision-depth.ts';
import type { DecideAnswer, DecideMessage, DecideRequest, ScenarioAnswer } from './decide-messages.ts';

type Question = Omit<DecideRequest, 'number'>;

interface Depth {
  /** Of the request whose pieces are coming in; null before the first. */
  coming: { number: number; depth: DecisionDepth } | null;
  /** The last that was worked out to its end, to stand in until the newer pieces are there. */
  whole: DecisionDepth | null;
}

export interface DecisionState {
  answer: DecideAnswer | null;
  /** The answer is of an earlier what-if: the newer one is being worked. */
  stale: boolean;
  failure: Error | null;
  depth: Depth;
  scenarios: ScenarioAnswer[];
}

/**
 * The decision for the what-if at hand, worked beside the page so that typing
 * stays smooth. While a newer one is being worked the last answer stays, marked
 * as `stale`; only the newest question is ever worked next. What lies behind the decision
 * comes in pieces after it, and is given up when there is a newer question.
 */
export function useDecision(question: Question | null): DecisionState {
  const [answer, setAnswer] = useState<DecideAnswer | null>(null);
  const [depth, setDepth] = useState<Depth>({ coming: null, whole: null });
  const [scenarios, setScenarios] = useState<ScenarioAnswer[]>([]);
  const [failure, setFailure] = useState<Error | null>(null);
  const [asked, setAsked] = useState(0);
  const worker = useRef<Worker | null>(null);
  const waiting = useRef<DecideRequest | null>(null);
  const working = useRef(false);
  const counter = useRef(0);

  useEffect(() => {
    const started = new Worker(new URL('../workers/decide-worker.ts', import.meta.url), { type: 'module' });
    worker.current = started;
    const next = (): void => {
      const request = waiting.current;
      waiting.current = null;
      working.current = request !== null;
      if (request !== null) started.postMessage(request);
    };
    started.onmessage = ({ data }: MessageEvent<DecideMessage>) => {
      if (data.kind === 'depth') {
        const { number, depth: coming } = data;
        setDepth((earlier) => ({
          coming: { number, depth: coming },
          whole: coming.doneFrac === 1 ? coming : earlier.whole,
        }));
      } else if (data.kind === 'scenarios') setScenarios(data.scenarios);
      else {
        setAnswer(data.answer);
        next();
      }
    };
    started.onerror = (event) => {
      event.preventDefault();
      setFailure(new Error(event.message));
      next();
    };
    return () => {
      started.terminate();
      worker.current = null;
      working.current = false;
    };
  }, []);

  useEffect(() => {
    if (question === null || worker.current === null) return;
    counter.current += 1;
    const request = { ...question, number: counter.current };
    setAsked(counter.current);
    setFailure(null);
    if (working.current) waiting.current = request;
    else {
      working.current = true;
      worker.current.postMessage(request);
    }
  }, [question]);

  return { answer, stale: answer !== null && answer.number !== asked, failure, depth, scenarios };
}
