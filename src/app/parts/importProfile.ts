// Reads a photometric file from the user's disk and extracts an emitter's profile and flux.
import { LM63_LIMITS, readLm63 } from '../../files/lm63.ts'
import { type FileProfile, profileFromPhotometry } from '../../files/lm63Profile.ts'
import { withLightNote } from '../../lamp/emitterNote.ts'
import { emitterType } from '../../lamp/parts.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { rangeFault } from '../common/units.ts'
import { withEmitter } from './edits.ts'
import { rangeOf } from './range.ts'

export type ImportedProfile = Extract<FileProfile, { ok: true }> & { file: string; notes: readonly string[] }

export interface ImportCallbacks {
  onProfile(imported: ImportedProfile): void
  onRefused(file: string, why: readonly string[]): void
}

export async function readProfileFile(
  file: Pick<File, 'name' | 'size' | 'text'>,
  callbacks: ImportCallbacks,
): Promise<void> {
  // UTF-8: up to four bytes for each character.
  if (file.size > 4 * LM63_LIMITS.chars) {
    const most = (4 * LM63_LIMITS.chars) / 1e6
    callbacks.onRefused(file.name, [
      `It holds ${Math.round(file.size / 1e6)} MB; a photometric file is never over ${most} MB.`,
    ])
    return
  }
  let text: string
  try {
    text = await file.text()
  } catch {
    callbacks.onRefused(file.name, ['The file could not be read from the disk.'])
    return
  }
  const read = readLm63(text)
  if (!read.ok) return callbacks.onRefused(file.name, [read.why])
  const made = profileFromPhotometry(read.photometry)
  if (!made.ok) return callbacks.onRefused(file.name, [made.why])
  callbacks.onProfile({ ...made, file: file.name, notes: read.photometry.notes })
}

/** Why a file's lumens cannot be an emitter's, or null. */
export const lumensFault = (fluxLm: number): string | null =>
  rangeFault(fluxLm, rangeOf(emitterType.shape.fluxLm), 'lm')

/** Replaces the profile, and the line of the note about its source. */
export function withProfile(
  lamp: Lamp,
  id: string,
  part: { profile: Lamp['emitterTypes'][number]['profile']; fluxLm?: number },
  from?: string,
): Lamp {
  const old = lamp.emitterTypes.find((e) => e.id === id)
  if (!old) return lamp
  const note = withLightNote(old.note, from ?? null)
  return withEmitter(lamp, id, note === old.note ? part : { ...part, note })
}
