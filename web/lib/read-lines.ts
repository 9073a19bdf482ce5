/** The lines of an answer as they arrive; the last need not be ended. */
export async function* readLines(
  body: ReadableStream<Uint8Array<ArrayBuffer>>,
): AsyncGenerator<string, void> {
  const reader = body.pipeThrough(new TextDecoderStream()).getReader();
  let rest = '';
  try {
    for (;;) {
      const { done, value } = await reader.read();
      if (done) break;
      const lines = (rest + value).split('\n');
      rest = lines.pop() ?? '';
      yield* lines;
    }
    if (rest !== '') yield rest;
  } finally {
    await reader.cancel();
  }
}
