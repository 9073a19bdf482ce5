import { describe, expect, it } from 'vitest';
import { newSecret, otpauthLink } from '../../api/accounts/totp.ts';
import { qrCode } from '../../web/lib/qr-code.ts';
import { readQrCode } from '../support/read-qr-code.ts';

describe('a QR code', () => {
  it.each([
    'otpauth://totp/Poursheet:Ann?secret=JBSWY3DPEHPK3PXP&issuer=Poursheet',
    `otpauth://totp/Poursheet:${encodeURIComponent('Jürg Brännström at the mill of the long name')}?secret=${'A'.repeat(32)}&issuer=Poursheet&algorithm=SHA1&digits=6&period=30`,
  ])('is read back by another program (jsQR): %s', (text) => {
    expect(readQrCode(qrCode(text))).toBe(text);
  });

  it('is drawn for the link that the program itself offers', () => {
    const link = otpauthLink({ issuer: 'Poursheet Invented Mill', name: 'Ann', secret: newSecret() });
    expect(readQrCode(qrCode(link))).toBe(link);
  });
});
