import { createHmac, randomBytes } from 'node:crypto';

/** RFC 6238 as telephones expect it: SHA-1, steps of 30 s from 1970, six digits. */
const STEP_S = 30;
/** A code of the step before or after is taken too: RFC 6238, 5.2, allows for the delay and for clocks that differ. */
const STEPS_ASIDE = 1;
const ALPHABET = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ234567';

/** A secret of 160 bits (RFC 4226, 4, R6) in base 32. */
export function newSecret(): string {
  return base32(randomBytes(20));
}

/** The code of a step: RFC 4226, 5.3, over the number of the step. */
export function codeAt(key: Buffer, step: number, { digits = 6, hash = 'sha1' } = {}): string {
  const counter = Buffer.alloc(8);
  counter.writeBigUInt64BE(BigInt(step));
  const mac = createHmac(hash, key).update(counter).digest();
  const offset = (mac.at(-1) ?? 0) & 0xf;
  const number = (mac.readUInt32BE(offset) & 0x7fffffff) % 10 ** digits;
  return String(number).padStart(digits, '0');
}

export function stepAt(now: Date): number {
  return Math.floor(now.getTime() / 1000 / STEP_S);
}

/** The step that a code belongs to, if it may still be taken: never the same or an earlier one twice. */
export function acceptedStep(
  secret: string,
  code: string,
  now: Date,
  lastStep: number | null,
): number | undefined {
  const typed = code.replaceAll(/\s/g, '');
  const key = fromBase32(secret);
  const present = stepAt(now);
  for (let step = present - STEPS_ASIDE; step <= present + STEPS_ASIDE; step += 1)
    if (step > (lastStep ?? -1) && codeAt(key, step) === typed) return step;
  return undefined;
}

/** What a telephone takes up, as its programs agreed on it: otpauth://totp/issuer:account?secret=… */
export function otpauthLink({
  issuer,
  name,
  secret,
}: {
  issuer: string;
  name: string;
  secret: string;
}): string {
  const label = `${encodeURIComponent(issuer)}:${encodeURIComponent(name)}`;
  return `otpauth://totp/${label}?secret=${secret}&issuer=${encodeURIComponent(issuer)}&algorithm=SHA1&digits=6&period=${STEP_S}`;
}

/** RFC 4648, 6, without padding. */
export function base32(bytes: Buffer): string {
  let bits = '';
  for (const byte of bytes) bits += byte.toString(2).padStart(8, '0');
  return (bits.match(/.{1,5}/g) ?? []).map((five) => ALPHABET[parseInt(five.padEnd(5, '0'), 2)]).join('');
}

export function fromBase32(text: string): Buffer {
  let bits = '';
  for (const letter of text) bits += ALPHABET.indexOf(letter).toString(2).padStart(5, '0');
  return Buffer.from((bits.match(/.{8}/g) ?? []).map((byte) => parseInt(byte, 2)));
}
