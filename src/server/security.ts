// Who may talk to the server: only pages of its own origin on this machine, and what they may load.
import helmet from '@fastify/helmet';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { CHANGE_HEADER } from '../api/contract.ts';
import { ServerError } from './errors.ts';

const LOOPBACK_NAMES = ['127.0.0.1', 'localhost', '[::1]'];
const SAFE_METHODS = new Set(['GET', 'HEAD', 'OPTIONS']);

/** Host and Origin must name this server with its port: a foreign name that resolves here is refused. */
function refuseStrangers(request: FastifyRequest, port: number): void {
  const host = request.headers.host ?? '';
  // a browser leaves the port of plain HTTP out
  const ours = LOOPBACK_NAMES.flatMap((name) => (port === 80 ? [name, `${name}:80`] : [`${name}:${port}`]));
  if (!ours.includes(host))
    throw new ServerError('HOST_REFUSED', `The request names the host '${host.slice(0, 100)}'.`);
  const { origin } = request.headers;
  if (origin !== undefined && !ours.some((each) => origin === `http://${each}`)) {
    throw new ServerError('ORIGIN_REFUSED', `The request comes from a page of '${origin.slice(0, 100)}'.`);
  }
  if (!SAFE_METHODS.has(request.method) && request.headers[CHANGE_HEADER] !== '1') {
    throw new ServerError(
      'CHANGE_HEADER_MISSING',
      `${request.method} ${request.url.slice(0, 100)} would change something.`,
    );
  }
}

/**
 * Registers the checks and the headers.
 *
 * @param port answers the port listened on, known only once the server listens
 */
export async function registerSecurity(app: FastifyInstance, port: () => number): Promise<void> {
  await app.register(helmet, {
    enableCSPNonces: true,
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        defaultSrc: ["'none'"],
        scriptSrc: ["'self'"],
        styleSrc: ["'self'"],
        imgSrc: ["'self'", 'data:', 'blob:'],
        fontSrc: ["'self'", 'data:'],
        connectSrc: ["'self'"],
        workerSrc: ["'self'"],
        formAction: ["'self'"],
        frameAncestors: ["'none'"],
        baseUri: ["'none'"],
      },
    },
    crossOriginEmbedderPolicy: false,
    hsts: false, // loopback without TLS
    referrerPolicy: { policy: 'no-referrer' },
  });
  app.addHook('onRequest', async (request) => refuseStrangers(request, port()));
}
