// Why a lamp can't stand, with the page's words in place of the file's path: "Lens, stands at z: the lens reaches back to …".
import { LABELLED, labelOf } from '../../job/sweep/labels.ts'
import type { Lamp } from '../../lamp/schema.ts'

const PARTS: Record<string, string> = {
  emitterTypes: 'Emitter',
  opticTypes: 'Optic',
  boardTypes: 'Board type',
  boards: 'Board',
  elements: 'Further lens',
  powerUp: 'Power-up list',
}
const KINDS: Record<string, string> = { emitterTypes: 'emitters', opticTypes: 'optics' }

/** What begins with no path stays as it is. `fault`: as `readLamp` gives it. */
export function faultWords(fault: string, lamp: Lamp): string {
  const [, path, why] = /^([a-z]\w*(?:\[\d+\]|\.[\w-]+)*): (.*)$/s.exec(fault) ?? []
  if (path === undefined || why === undefined) return fault
  const [top = '', ...steps] = path.split(/[.[\]]+/).filter((step) => step !== '')
  if (!Object.hasOwn(lamp, top)) return fault
  const part = PARTS[top] ?? top.charAt(0).toUpperCase() + top.slice(1)
  const keys = steps.filter((step) => !/^\d+$/.test(step))
  const kind = [KINDS[top] ?? top, ...keys].join('.')
  // Of a longer path only the last step has a name of its own.
  const label = keys.length === 0 ? '' : labelOf(LABELLED.includes(kind) ? kind : (keys.at(-1) ?? ''))
  const lowered = label.charAt(0).toLowerCase() + label.slice(1)
  return `${[`${part}${rowName(lamp, top, steps[0])}`, lowered].filter((word) => word !== '').join(', ')}: ${why}`
}

/** “ B4” of boards, “ “Collimator 12°”” of types; empty for what stands in no list. */
function rowName(lamp: Lamp, top: string, index: string | undefined): string {
  const rows: unknown = lamp[top as keyof Lamp]
  const row = Array.isArray(rows) && index ? (rows as { id?: string; name?: string }[])[Number(index)] : undefined
  if (row?.name) return ` “${row.name}”`
  return row?.id ? ` ${row.id}` : ''
}
