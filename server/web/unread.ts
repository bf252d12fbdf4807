import type { FastifyInstance, FastifyRequest } from 'fastify';

/** As much as the largest list may have: a browser sends all of a form before it reads the answer. */
const MOST_READ_PAST = 36 * 1024 * 1024;

/**
 * Answers before the end of what is sent are heard: a connection closed on somebody who still sends is reset, and the
 * answer goes with it. The rest is read past, up to a limit, and then the connection is closed.
 */
export function hearOut(app: FastifyInstance): void {
  app.addHook('onSend', async (request, reply) => {
    if (!isStillComing(request)) return;
    // Under `close` Node closes with the answer.
    reply.header('connection', 'keep-alive');
    const { raw } = request;
    const { socket } = raw;
    let bytes = 0;
    raw.on('data', (chunk: Buffer) => {
      bytes += chunk.length;
      if (bytes > MOST_READ_PAST) socket.destroy();
    });
    const end = () => {
      if (raw.complete && reply.raw.writableFinished) socket.end();
    };
    raw.once('end', end);
    reply.raw.once('finish', end);
    raw.unpipe();
    raw.resume();
  });
}

function isStillComing({ raw }: FastifyRequest): boolean {
  const { 'content-length': size, 'transfer-encoding': coding } = raw.headers;
  return !raw.complete && (coding !== undefined || Number(size ?? 0) > 0);
}
