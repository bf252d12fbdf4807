import { BlockList } from 'node:net';
import type { NetworkInterfaceInfo } from 'node:os';

/** What the machine is joined to, asked anew each time: `os.networkInterfaces`. */
export type Interfaces = () => NodeJS.Dict<NetworkInterfaceInfo[]>;

/** One of our own addresses on a private network: "192.168.1.20" in "192.168.1.0/24". */
export interface OwnAddress {
  readonly address: string;
  readonly subnet: string;
}

/** The addresses that no router leads to from outside: RFC 1918 and RFC 3927. */
const PRIVATE = new BlockList();
PRIVATE.addSubnet('10.0.0.0', 8);
PRIVATE.addSubnet('172.16.0.0', 12);
PRIVATE.addSubnet('192.168.0.0', 16);
PRIVATE.addSubnet('169.254.0.0', 16);

/** Our own IPv4 addresses on private networks, in the order in which the system tells them. */
export function ownAddresses(interfaces: Interfaces): OwnAddress[] {
  return Object.values(interfaces())
    .flatMap((list) => list ?? [])
    .filter(({ family, internal, address }) => family === 'IPv4' && !internal && PRIVATE.check(address))
    .map(({ address, netmask }) => ({ address, subnet: subnetOf(address, netmask) }));
}

/** True for who is on a network that we are on ourselves; a router's other side is not. */
export function isNeighbour(interfaces: Interfaces, address: string | undefined): boolean {
  const neighbours = new BlockList();
  for (const { subnet } of ownAddresses(interfaces)) {
    const [net = '', bits] = subnet.split('/');
    neighbours.addSubnet(net, Number(bits));
  }
  return neighbours.check((address ?? '').replace(/^::ffff:/, ''));
}

function subnetOf(address: string, netmask: string): string {
  const [number, mask] = [numberOf(address), numberOf(netmask)];
  const bits = mask.toString(2).replaceAll('0', '').length;
  const net = (number & mask) >>> 0;
  return `${[24, 16, 8, 0].map((shift) => (net >>> shift) & 255).join('.')}/${bits}`;
}

function numberOf(address: string): number {
  return address.split('.').reduce((sum, part) => ((sum << 8) | Number(part)) >>> 0, 0);
}
