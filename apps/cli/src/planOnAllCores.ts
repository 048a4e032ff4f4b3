// A plan whose spread is counted on all cores; the same figures to the last bit as the plan made on one.
import { type FlyRequest, type Plan, type PlanOptions, plan, spreadHeightsFt } from '@stillprop/physics';
import { type AllCoresOptions, spreadOnAllCores } from './spreadOnAllCores.js';

/** As `plan` of physics. @throws {RangeError} As there. */
export async function planOnAllCores(
  request: FlyRequest,
  options: PlanOptions & Pick<AllCoresOptions, 'signal' | 'aloneMs'>,
): Promise<Plan> {
  const answer = plan(request, { ...options, spread: null });
  if (options.spread === null || request.technique.turn === 'ahead') return answer;
  const spread = await spreadOnAllCores(request, {
    heightsFt: spreadHeightsFt(request, answer.lowestReturnFt, options.start),
    ...options.spread,
    start: options.start,
    signal: options.signal,
    aloneMs: options.aloneMs,
    onProgress: (share) => options.onProgress?.('spread', 0.65 + 0.35 * share),
  });
  return { ...answer, spread };
}
