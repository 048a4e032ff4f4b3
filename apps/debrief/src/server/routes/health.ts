// GET /api/health: the server is up, and which scoring engine it runs.
import { z } from 'zod';
import type { Routes } from '../zodTypes.js';

const Health = z.strictObject({ status: z.literal('ok'), engineRevision: z.string() });

export const healthRoutes: Routes<{ engineRevision: string }> = async (app, { engineRevision }) => {
  app.get('/health', { schema: { response: { 200: Health } } }, async () => ({
    status: 'ok' as const,
    engineRevision,
  }));
};
