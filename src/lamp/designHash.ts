// A short name for a design’s contents: it distinguishes a drawing from one of an older design.
import { sha256 } from '../num/sha256.ts'
import type { Lamp } from './schema.ts'

/**
 * SHA-256 (FIPS 180-4), hexadecimal, of the lamp’s JSON with the entries of every object in alphabetical order: how a file is laid out doesn’t count,
 * nor what was measured on the built lamp.
 */
export const designHash = ({ readings: _, ...design }: Lamp): string =>
  sha256(new TextEncoder().encode(canonicalJson(design)))

/** Plain JSON with the entries of every object in alphabetical order. */
export const canonicalJson = (value: unknown): string =>
  JSON.stringify(value, (_, entry: unknown) =>
    entry !== null && typeof entry === 'object' && !Array.isArray(entry)
      ? Object.fromEntries(Object.entries(entry).sort(([a], [b]) => (a < b ? -1 : 1)))
      : entry,
  )
