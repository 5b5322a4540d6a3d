import { expect, it } from 'vitest';
import { TestServer } from '../../test/support/serving.ts';
import { calculations, runCalculation } from '../calculations/index.ts';
import { unwrap } from '../problem/index.ts';

it('every calculation is listed, described, and answers as the register does', async () => {
  const server = await TestServer.start();
  const { json } = await server.get('/api/calculations');
  expect(json.calculations.map(({ id }: { id: string }) => id)).toEqual(calculations.map(({ id }) => id));
  for (const { id, example } of calculations) {
    const answer = await server.post(`/api/calculations/${id}`, example.input);
    expect([id, answer.status, answer.json]).toEqual([
      id,
      200,
      JSON.parse(JSON.stringify(unwrap(runCalculation(id, example.input)))),
    ]);
  }
  const { id } = calculations[0]!;
  expect((await server.get(`/api/calculations/${id}`)).json).toMatchObject({ id, inputSchema: { type: 'object' } });
  expect(await server.post(`/api/calculations/${id}`, { nonsense: 1 })).toMatchObject({ status: 422 });
  expect((await server.post('/api/calculations/perpetual-motion', {})).status).toBe(404);
  expect((await server.get('/api/calculations/perpetual-motion')).status).toBe(404);
  expect(server.failures).toEqual([]);
  await server.stop();
});
