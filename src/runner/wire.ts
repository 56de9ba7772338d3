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
