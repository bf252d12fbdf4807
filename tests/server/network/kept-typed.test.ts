import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { KEEPER, type NetworkHouse, openNetworkHouse } from './house.ts';

let house: NetworkHouse;
beforeAll(async () => {
  house = await openNetworkHouse();
});
afterAll(() => house.shut());

describe('the network', () => {
  it('keeps what was typed of it and of a device where that is refused', async () => {
    const html = { accept: 'text/html' };
    const token = house.signed(1, KEEPER.id, true);
    const way = { method: 'POST', way: 'machine', token, headers: html } as const;
    const typed = { address: 'http://192.168.1.20:0', wifi_name: 'The loft’s own', own_certificate: '' };
    for (const wrong of [{ passphrase: 'wrong' }, { passphrase: KEEPER.passphrase, address: 'nowhere' }]) {
      const fields = { ...typed, ...wrong };
      const refused = await house.ask({ ...way, path: '/setup/network/on', fields });
      const location = refused.headers.location as string | undefined;
      const page = location
        ? await house.ask({ path: location, way: 'machine', token, headers: html })
        : refused;
      expect(page.statusCode).toBe(422);
      expect(page.body).toMatch(
        /name="wifi_name"[^>]*value="The loft’s own"|value="The loft’s own"[^>]*name="wifi_name"/,
      );
      expect(page.body).not.toContain(KEEPER.passphrase);
    }
    const device_name = 'W'.repeat(200);
    const refused = await house.ask({
      ...way,
      path: '/setup/devices/invitations',
      fields: { device_name, person_id: '' },
    });
    const location = refused.headers.location as string | undefined;
    const page = location
      ? await house.ask({ path: location, way: 'machine', token, headers: html })
      : refused;
    expect([page.statusCode, page.body.includes(device_name)]).toEqual([422, true]);
  });
});
