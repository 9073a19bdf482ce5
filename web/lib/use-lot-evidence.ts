import { useEffect, useRef, useState } from 'react';
import type { EvidenceFacts } from '../../api/calc/facts/records.ts';
import { useOwner } from './owner.ts';
import type { EvidenceAnswer, EvidenceRequest } from './evidence-messages.ts';

/**
 * What the tests and assays of a lot say, worked beside the page. Null until it
 * is worked; while newer records are being worked the last answer stays.
 */
export function useLotEvidence(facts: EvidenceFacts | undefined): EvidenceAnswer | null {
  const { massUnit, metalUnit, gradeUnit } = useOwner();
  const [answer, setAnswer] = useState<EvidenceAnswer | null>(null);
  const [failure, setFailure] = useState<Error | null>(null);
  const worker = useRef<Worker | null>(null);
  const asked = useRef(0);

  useEffect(() => {
    const started = new Worker(new URL('../workers/evidence-worker.ts', import.meta.url), { type: 'module' });
    worker.current = started;
    started.onmessage = ({ data }: MessageEvent<EvidenceAnswer>) => {
      if (data.number === asked.current) setAnswer(data);
    };
    started.onerror = (event) => {
      event.preventDefault();
      setFailure(new Error(event.message));
    };
    return () => {
      started.terminate();
      worker.current = null;
    };
  }, []);

  useEffect(() => {
    if (facts === undefined) return;
    asked.current += 1;
    const units = { massUnit, metalUnit, gradeUnit };
    const request: EvidenceRequest = { number: asked.current, facts: { ...facts, units } };
    worker.current?.postMessage(request);
  }, [facts, massUnit, metalUnit, gradeUnit]);

  if (failure !== null) throw failure;
  return answer;
}
