// Damage as transfers, disks and people do it to files, and as hands and scripts do it to requests.
import type { SeededRandom } from '../../src/science/numerics/seeded-random.ts';

/** Bytes damaged; the same for one seed. */
export function damaged(inputs: readonly Uint8Array[], random: SeededRandom): Uint8Array {
  const pick = (): Uint8Array => inputs[random.below(inputs.length)]!;
  let bytes = Uint8Array.from(pick());
  const times = 1 + random.below(4);
  for (let k = 0; k < times && bytes.length > 0; k++) {
    const at = random.below(bytes.length);
    const other = pick();
    const from = random.below(other.length);
    switch (random.below(6)) {
      case 0:
        bytes[at]! ^= 1 << random.below(8);
        break;
      case 1:
        bytes = bytes.slice(0, at);
        break;
      case 2:
        bytes = Uint8Array.from([...bytes.slice(0, at), ...other.slice(from)]);
        break;
      case 3:
        bytes = Uint8Array.from([...bytes.slice(0, at), ...bytes.slice(at + 1 + random.below(5))]);
        break;
      case 4: {
        const marks = [0, 9, 10, 13, 32, 34, 35, 44, 45, 46, 48, 57, 59, 69, 0x80, 0xc3, 0xff];
        bytes[at] = marks[random.below(marks.length)]!;
        break;
      }
      default:
        bytes = Uint8Array.from([...bytes, ...bytes.slice(0, at), ...bytes.slice(at)]);
    }
  }
  return bytes;
}

const ODD_VALUES: readonly unknown[] = [
  null,
  true,
  0,
  -1,
  -0,
  0.5,
  1e308,
  5e-324,
  2 ** 53,
  '',
  ' ',
  'x'.repeat(5000),
  '\ud800',
  'a\0b',
  '__proto__',
  '01890000-0000-7000-8000-000000000000',
  'f'.repeat(64),
  [],
  {},
  [null],
  [[]],
  [1, 2, 3],
  { a: 1 },
  { blob: 'f'.repeat(64), column: 0 },
];

type Place = [holder: Record<PropertyKey, unknown>, key: PropertyKey];

function placesIn(value: unknown, found: Place[] = []): Place[] {
  if (value === null || typeof value !== 'object') return found;
  for (const [key, part] of Object.entries(value)) {
    found.push([value as never, key]);
    placesIn(part, found);
  }
  return found;
}

/** JSON with a few of its parts replaced by odd ones, left out, doubled or named otherwise. */
export function damagedJson(text: string, random: SeededRandom): string {
  const value = JSON.parse(text) as unknown;
  const times = 1 + random.below(3);
  for (let k = 0; k < times; k++) {
    const places = placesIn(value);
    if (places.length === 0) break;
    const [holder, key] = places[random.below(places.length)]!;
    const odd = ODD_VALUES[random.below(ODD_VALUES.length)];
    const turn = random.below(6);
    if (turn === 0 && !Array.isArray(holder)) delete holder[key];
    else if (turn === 1 && !Array.isArray(holder)) holder[`${String(key)}2`] = structuredClone(holder[key]);
    else if (turn === 2) holder[key] = [holder[key], structuredClone(holder[key])];
    else holder[key] = structuredClone(odd);
  }
  return JSON.stringify(value);
}
