// Tells text from binary by the first bytes of a file, and names common binary kinds. Pure.

/** First bytes of common binary files, from their published specifications [memory: file format specifications]. */
const SIGNATURES: readonly { bytes: readonly number[]; name: string }[] = [
  { bytes: [0x50, 0x4b, 0x03, 0x04], name: 'a zip archive (or a spreadsheet or document packed as one)' },
  { bytes: [0x50, 0x4b, 0x05, 0x06], name: 'an empty zip archive' },
  { bytes: [0x25, 0x50, 0x44, 0x46], name: 'a PDF document' },
  { bytes: [0x89, 0x50, 0x4e, 0x47], name: 'a PNG image' },
  { bytes: [0x89, 0x48, 0x44, 0x46], name: 'an HDF5 file' },
  { bytes: [0xff, 0xd8, 0xff], name: 'a JPEG image' },
  { bytes: [0x47, 0x49, 0x46, 0x38], name: 'a GIF image' },
  { bytes: [0x49, 0x49, 0x2a, 0x00], name: 'a TIFF image' },
  { bytes: [0x4d, 0x4d, 0x00, 0x2a], name: 'a TIFF image' },
  { bytes: [0x1f, 0x8b], name: 'a gzip archive' },
  { bytes: [0x42, 0x5a, 0x68], name: 'a bzip2 archive' },
  { bytes: [0xfd, 0x37, 0x7a, 0x58, 0x5a], name: 'an xz archive' },
  { bytes: [0x37, 0x7a, 0xbc, 0xaf, 0x27], name: 'a 7z archive' },
  { bytes: [0xd0, 0xcf, 0x11, 0xe0], name: 'a compound binary document (old spreadsheet or text document)' },
  { bytes: [0x53, 0x51, 0x4c, 0x69, 0x74, 0x65, 0x20, 0x66], name: 'an SQLite database' },
  { bytes: [0x7f, 0x45, 0x4c, 0x46], name: 'a program' },
  { bytes: [0x43, 0x44, 0x46, 0x01], name: 'a netCDF file' },
];

/** Name of the binary kind whose signature the bytes begin with, or undefined. */
export function binaryKind(bytes: Uint8Array): string | undefined {
  return SIGNATURES.find(({ bytes: signature }) => signature.every((byte, i) => bytes[i] === byte))?.name;
}

/** Control characters that text does not hold; tab, line ends, form feed and the old end-of-file mark do occur. */
export function isForeignControl(byte: number): boolean {
  return byte < 32 && byte !== 9 && byte !== 10 && byte !== 13 && byte !== 12 && byte !== 26;
}
