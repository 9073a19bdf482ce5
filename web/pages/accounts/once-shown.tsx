import { useState } from 'react';
import { Notice } from '../../parts/notice.tsx';

/** An address that is shown once, to be handed on. */
export function OnceShown(props: { address: string; children: string }) {
  const { address, children } = props;
  const [copied, setCopied] = useState(false);
  return (
    <div role="status">
      <Notice level="warning">{children}</Notice>
      <p>
        <code className="secret">{address}</code>
      </p>
      <p className="actions">
        {/* Browsers let pages copy only on this machine and under https. */}
        {window.isSecureContext ? (
          <button
            type="button"
            onClick={() => {
              void navigator.clipboard.writeText(address).then(() => setCopied(true));
            }}
          >
            {copied ? 'Copied' : 'Copy it'}
          </button>
        ) : null}
      </p>
    </div>
  );
}
