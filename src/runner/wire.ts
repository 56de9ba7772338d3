// From the values that science hands back to the JSON that travels.
import { DomainError } from '../science/errors.ts';

/**
 * The JSON form of a value: typed arrays become arrays, NaN becomes null, a field that is undefined is left out.
 *
 * @throws DomainError NOT_FINITE if a number is infinite: no schema has a place for it
 */
export function toWire(value: unknown, path = ''): unknown {
  if (typeof value === 'number') {
    if (Number.isNaN(value)) return null;
    if (!Number.isFinite(value)) throw new DomainError('NOT_FINITE', `${path || 'the value'} is infinite.`);
    return value;
  }
  if (ArrayBuffer.isView(value) && !(value instanceof DataView)) {
    return Array.from(value as Float64Array, (each, i) => toWire(each, `${path}[${i}]`));
  }
  if (Array.isArray(value)) return value.map((each, i) => toWire(each, `${path}[${i}]`));
  if (value !== null && typeof value === 'object') {
    const entries = Object.entries(value).filter(([, each]) => each !== undefined);
    return Object.fromEntries(
      entries.map(([key, each]) => [key, toWire(each, path ? `${path}.${key}` : key)]),
    );
  }
  return value;
}

/** Are two values the same once they travel? Answers without writing either out. */
export function isSameOnWire(one: unknown, other: unknown): boolean {
  if (one === other) return true;
  if (typeof one === 'number' && Number.isNaN(one)) return other === null || Number.isNaN(other);
  if (typeof other === 'number' && Number.isNaN(other)) return one === null;
  if (typeof one !== 'object' || typeof other !== 'object' || one === null || other === null) return false;
  if (isList(one) || isList(other)) {
    if (!isList(one) || !isList(other) || one.length !== other.length) return false;
    for (let i = 0; i < one.length; i++) if (!isSameOnWire(one[i], other[i])) return false;
    return true;
  }
  const [left, right] = [one as Record<string, unknown>, other as Record<string, unknown>];
  const isCarried = (key: string) => left[key] !== undefined;
  if (Object.keys(left).some((key) => isCarried(key) && !Object.hasOwn(right, key))) return false;
  return Object.keys(right).every((key) => {
    const held = Object.hasOwn(left, key) ? left[key] : undefined;
    return held === right[key] || isSameOnWire(held, right[key]);
  });
}

function isList(value: object): value is ArrayLike<unknown> & object {
  return Array.isArray(value) || (ArrayBuffer.isView(value) && !(value instanceof DataView));
}
