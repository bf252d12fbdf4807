import { afterEach, describe, expect, it } from 'vitest';
import { type Interfaces, isNeighbour, ownAddresses } from '../../../server/network/interfaces.ts';
import { ADDRESS, HAND, KEEPER, type NetworkHouse, on, openNetworkHouse } from './house.ts';

let house: NetworkHouse | undefined;
afterEach(async () => {
  await house?.shut();
  house = undefined;
});

const card = (address: string, netmask = '255.255.255.0', internal = false) =>
  ({ family: 'IPv4', internal, netmask, mac: '', cidr: null, address }) as const;

describe('our own addresses', () => {
  const interfaces: Interfaces = () => ({
    lo: [card('127.0.0.1', '255.0.0.0', true)],
    eth0: [card('192.168.1.20'), { ...card('fe80::1'), family: 'IPv6', scopeid: 2 }],
    eth1: [card('10.4.9.7', '255.255.240.0')],
    wan: [card('203.0.113.7')],
  });

  it('are those on private networks, each with its subnet', () => {
    expect(ownAddresses(interfaces)).toEqual([
      { address: '192.168.1.20', subnet: '192.168.1.0/24' },
      { address: '10.4.9.7', subnet: '10.4.0.0/20' },
    ]);
  });

  it('make neighbours of who is in one of those subnets, and of nobody else', () => {
    const known = ['192.168.1.77', '::ffff:192.168.1.77', '10.4.15.255'];
    const strange = ['192.168.2.1', '10.4.16.0', '203.0.113.8', '127.0.0.1', '::1', 'fe80::2', '', undefined];
    expect(known.filter((address) => !isNeighbour(interfaces, address))).toEqual([]);
    expect(strange.filter((address) => isNeighbour(interfaces, address))).toEqual([]);
  });
});

describe('a computer whose address changed', () => {
  it('says so to a keeper at the machine, with the labels that lead to the old one, and to no hand', async () => {
    let address = ADDRESS;
    house = await openNetworkHouse({ interfaces: () => on(address)() });
    const { app, ask, signed } = house;
    const token = signed(1, KEEPER.id, true);
    const notice = async () => (await ask({ path: '/setup/network', way: 'machine', token })).json().notice;
    expect(await notice()).toBe('');
    address = '192.168.1.31';
    await app.network.look();
    expect(await notice()).toBe(
      'Phones and labels look for 192.168.1.20, but this computer is now 192.168.1.31. Bring the old address back to fetch what phones still hold.',
    );
    const seen = async (who: string) =>
      (
        await ask({ path: '/shelf', way: 'machine', token: who, headers: { accept: 'text/html' } })
      ).body.includes('Phones and labels look for');
    expect([await seen(token), await seen(signed(1, HAND.id))]).toEqual([true, false]);
    // The former number is nobody's: it is neither answered to nor led to.
    const at = { path: '/ping', at: '192.168.1.31' };
    expect((await ask({ ...at, headers: { host: '192.168.1.31:0' } })).statusCode).toBe(204);
    address = ADDRESS;
    await app.network.look();
    expect(await notice()).toBe('');
  });

  it('is served in the network in which it was switched on only: carried elsewhere it says so', async () => {
    let address = ADDRESS;
    house = await openNetworkHouse({ interfaces: () => on(address)() });
    const { app, ask, signed } = house;
    address = '10.0.0.5';
    await app.network.look();
    const token = signed(1, KEEPER.id, true);
    const { notice, addresses } = (await ask({ path: '/setup/network', way: 'machine', token })).json();
    expect(notice).toMatch(/^This computer is not on the network in which it was switched on/);
    expect(addresses).toEqual([]);
    // Nobody at the machine is taken for a keeper by that.
    expect((await ask({ path: '/orders', way: 'machine' })).statusCode).toBe(401);
  });
});
