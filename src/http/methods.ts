import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { RequestError } from './problems.js';

/**
 * Refuses what there is not, before its body is read, and tells a wrong method from a wrong address.
 * To be called before the routes are added.
 */
export function refuseUnknown(app: FastifyInstance): void {
  const routes = new Map<string, string[]>();
  app.addHook('onRoute', ({ url, method }) => {
    routes.set(url, [...(routes.get(url) ?? []), ...[method].flat()]);
  });
  const refuse = ({ url, method }: FastifyRequest, reply: FastifyReply): never => {
    const [path = ''] = url.split('?');
    const [, methods = []] = [...routes].find(([route]) => matches(route, path)) ?? [];
    if (methods.length === 0) throw new RequestError('not-found', 'GET /openapi.yaml tells what there is');
    const allowed = [...new Set(methods)].sort().join(', ');
    reply.header('allow', allowed);
    throw new RequestError('method-not-allowed', `there is no ${method} here, only ${allowed}`);
  };
  app.addHook('onRequest', async (request, reply) => {
    if (request.is404) refuse(request, reply);
  });
  // CORS takes OPTIONS everywhere, and comes to this where it is no preflight.
  app.setNotFoundHandler(async (request, reply) => refuse(request, reply));
}

/** Whether a path is that of a route, of whose address a `:name` stands for any one step. */
function matches(url: string, path: string): boolean {
  const steps = url.split('/');
  const given = path.split('/');
  return (
    steps.length === given.length &&
    steps.every((step, index) => step === given[index] || (step.startsWith(':') && given[index] !== ''))
  );
}
