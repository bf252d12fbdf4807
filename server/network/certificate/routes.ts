import { X509Certificate } from 'node:crypto';
import type { FastifyInstance } from 'fastify';
import { unknown } from '../../refusal.ts';
import { answering } from '../../web/answering.ts';
import { wayOf } from '../../web/door.ts';
import type { House } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import type { NetworkListener } from '../listener.ts';

/** The workroom's own certificate, how a device comes to trust it, and what to compare before it does. */
export function certificateRoutes(app: FastifyInstance, house: House, listener: NetworkListener): void {
  const { answer, showPage } = answering(app, house, { GET: 'open' });
  showPage('/certificate', ({ request }) =>
    certificatePage(listener.root(), listener.state.origin, wayOf(request).isSecure),
  );
  answer('/certificate/root.crt', ({ reply }) => {
    const root = listener.root();
    if (root === null) throw unknown('certificate yet');
    return reply
      .type('application/x-x509-ca-cert')
      .header('content-disposition', 'attachment; filename="clothroom-root.crt"')
      .send(new X509Certificate(root).raw);
  });
}

/** @param root the root as PEM text, null where the own certificate is not used */
export function certificatePage(root: string | null, origin: string, isSecure: boolean) {
  const data = {
    /** of the root, in eight groups to compare; '' where there is none */
    fingerprint: root === null ? '' : sayFingerprint(root),
    origin: origin.startsWith('https:') ? origin : '',
    isSecure,
  };
  return { view: 'network/certificate', data, title: 'Certificate', room: null } satisfies Page;
}

/** SHA-256 of a certificate in eight groups: "1A2B3C4D …". */
export function sayFingerprint(cert: string): string {
  const letters = new X509Certificate(cert).fingerprint256.replaceAll(':', '');
  return letters.replace(/(.{8})(?=.)/g, '$1 ');
}
