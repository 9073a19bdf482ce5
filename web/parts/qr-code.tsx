import { qrCode } from '../lib/qr-code.ts';

/** A QR code for a telephone's camera. Dark on light in either theme: many readers take no other. */
export function QrCode(props: { text: string; label: string }) {
  const { width, path } = qrCode(props.text);
  return (
    <svg
      className="qr-code"
      role="img"
      aria-label={props.label}
      viewBox={`0 0 ${width} ${width}`}
      shapeRendering="crispEdges"
    >
      <path fill="#fff" d={`M0 0h${width}v${width}h-${width}z`} />
      <path fill="#000" d={path} />
    </svg>
  );
}
