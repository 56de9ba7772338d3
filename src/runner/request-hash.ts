// One hash for one request: canonical JSON (RFC 8785) under SHA-256. Arrays inside are hashed as they stand.
import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import canonicalize from 'canonicalize';
import { toWire } from './wire.ts';

/** Canonical JSON of a value as it stands on the wire. */
export function canonicalJson(value: unknown): string {
  const text = canonicalize(toWire(value));
  if (text === undefined) throw new TypeError('Nothing to hash: the value is undefined.');
  return text;
}

/** SHA-256 of the canonical JSON, in hexadecimal. */
export function hashOf(value: unknown): string {
  return bytesToHex(sha256(utf8ToBytes(canonicalJson(value))));
}
