import { crc32, inflateRawSync } from 'node:zlib';

export interface ZippedFile {
  name: string;
  bytes: Buffer;
  /** Year, month and day as the archive has them. */
  day: string;
}

/**
 * The files of an archive by its central directory, read apart from the library that wrote it
 * (PKWARE, APPNOTE.TXT, .ZIP File Format Specification 6.3.10, 4.3.6 to 4.3.16). Throws where a signature, a
 * size or a checksum is not what it must be. Files are stored or deflated, as ours are.
 */
export function filesInZip(archive: Buffer): ZippedFile[] {
  const end = archive.lastIndexOf(Buffer.from('PK\x05\x06', 'latin1'));
  if (end < 0 || end + 22 !== archive.length)
    throw new Error('The archive has no end, or something after it.');
  const count = archive.readUInt16LE(end + 10);
  let at = archive.readUInt32LE(end + 16);
  if (at + archive.readUInt32LE(end + 12) !== end)
    throw new Error('The central directory is not before the end.');
  return Array.from({ length: count }, () => {
    expectSignature(archive, at, 'PK\x01\x02');
    const [method, date] = [archive.readUInt16LE(at + 10), archive.readUInt16LE(at + 14)];
    const [checksum, packed, size] = [16, 20, 24].map((offset) => archive.readUInt32LE(at + offset));
    const [nameLength, extraLength, commentLength] = [28, 30, 32].map((offset) =>
      archive.readUInt16LE(at + offset),
    );
    const local = archive.readUInt32LE(at + 42);
    const name = archive.toString('utf8', at + 46, at + 46 + (nameLength ?? 0));
    at += 46 + (nameLength ?? 0) + (extraLength ?? 0) + (commentLength ?? 0);

    expectSignature(archive, local, 'PK\x03\x04');
    const from = local + 30 + archive.readUInt16LE(local + 26) + archive.readUInt16LE(local + 28);
    const kept = archive.subarray(from, from + (packed ?? 0));
    if (method !== 0 && method !== 8) throw new Error(`${name} is kept in a way that ours are not.`);
    const bytes = method === 0 ? kept : inflateRawSync(kept);
    if (bytes.length !== size) throw new Error(`${name} has not the size that the archive says.`);
    if (crc32(bytes) !== checksum) throw new Error(`${name} has not the checksum that the archive says.`);
    const two = (value: number): string => String(value).padStart(2, '0');
    return { name, bytes, day: `${1980 + (date >> 9)}-${two((date >> 5) & 15)}-${two(date & 31)}` };
  });
}

function expectSignature(archive: Buffer, at: number, signature: string): void {
  const found = archive.toString('latin1', at, at + 4);
  if (found !== signature)
    throw new Error(`At ${at} stands ${JSON.stringify(found)}, not ${JSON.stringify(signature)}.`);
}
