// A short name for a design’s contents, so that a drawing can be told from one of an older design.
import type { Lamp } from './schema.ts'

/** SHA-256 (FIPS 180-4), hexadecimal, of the lamp’s JSON with the entries of every object in alphabetical order: how a file is laid out doesn’t count. */
export async function designHash(lamp: Lamp): Promise<string> {
  const bytes = new TextEncoder().encode(canonicalJson(lamp))
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes))
  return [...digest].map((b) => b.toString(16).padStart(2, '0')).join('')
}

const canonicalJson = (value: unknown): string =>
  JSON.stringify(value, (_, entry: unknown) =>
    entry !== null && typeof entry === 'object' && !Array.isArray(entry)
      ? Object.fromEntries(Object.entries(entry).sort(([a], [b]) => (a < b ? -1 : 1)))
      : entry,
  )
