// Older documents are carried forward one version at a time; newer ones are refused in words.
import { LAMP_VERSION } from './schema.ts'

type Step = (old: Record<string, unknown>) => Record<string, unknown>

/**
 * steps[n] turns version n into n + 1. 0: before boards had a current each. 1: before heat and power, 2: before pieces of
 * lenses, rows of elements, joints, own outlines and wedges, whose entries are all optional.
 */
const steps: Record<number, Step> = {
  0: (old) => {
    const { currentA, ...rest } = old
    const boards = Array.isArray(rest['boards']) ? rest['boards'] : []
    return { ...rest, boards: boards.map((b: object) => ({ currentA: currentA ?? 1, ...b })), version: 1 }
  },
  1: (old) => ({ ...old, version: 2 }),
  2: (old) => ({ ...old, version: 3 }),
}

export function migrate(json: unknown): { ok: true; json: unknown } | { ok: false; why: string } {
  if (json === null || typeof json !== 'object' || Array.isArray(json))
    return { ok: false, why: 'The file holds no lamp: expected one JSON object.' }
  let doc = json as Record<string, unknown>
  if (doc['format'] !== 'lamp') return { ok: false, why: 'format: expected "lamp"; this is some other kind of file.' }
  const version = doc['version']
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 0)
    return { ok: false, why: 'version: expected a whole number.' }
  if (version > LAMP_VERSION)
    return { ok: false, why: `version: ${version} is newer than this program reads (up to ${LAMP_VERSION}).` }
  for (let v = version; v < LAMP_VERSION; v++) doc = steps[v]!(doc)
  return { ok: true, json: doc }
}
