// The last word of a page that is being left. IndexedDB answers later, when the page may be gone; localStorage is written at once. What stands
// here is taken over at the next start, and removed as soon as IndexedDB has it.
import { readLamp } from '../../lamp/read.ts'
import { type Edited, isHistory } from './history.ts'

/** A lamp with what IndexedDB does not have of it yet. */
export interface LastState extends Edited {
  id: string
  /** Keys of the states that it may follow: of what was stored, or was about to be. */
  after: readonly string[]
  /** It was the one on the sheet. */
  open: boolean
}

/** As localStorage. */
export type TextStore = Pick<Storage, 'getItem' | 'setItem' | 'removeItem' | 'key' | 'length'>

const PREFIX = 'lampwright-last:'

/** `tab`: another name for each page, so that two that are left at once don't write over one another. */
export function createLastStates(inner: () => TextStore, tab: string) {
  /** A browser that keeps no data throws; what is left in that moment is lost like all else there. */
  const tried = <T>(work: (texts: TextStore) => T, otherwise: T): T => {
    try {
      return work(inner())
    } catch {
      return otherwise
    }
  }
  const write = (state: LastState) =>
    tried((texts) => texts.setItem(`${PREFIX}${state.id}:${tab}`, JSON.stringify(state)), undefined)
  const remove = (keys: readonly string[]) =>
    tried((texts) => {
      for (const key of keys) texts.removeItem(key)
    }, undefined)
  /** What pages have left, oldest first; with the keys of all, also of what is damaged. */
  const read = () =>
    tried(
      (texts) => {
        const all = Array.from({ length: texts.length }, (_, i) => texts.key(i) ?? '')
        const keys = all.filter((key) => key.startsWith(PREFIX))
        const states = keys.flatMap((key) => parsed(texts.getItem(key) ?? ''))
        return { keys, states: states.sort((a, b) => a.at - b.at) }
      },
      { keys: [], states: [] },
    )
  return {
    write,
    read,
    remove,
    /** IndexedDB has all that this page had to keep. */
    removeOwn: () => remove(read().keys.filter((key) => key.endsWith(`:${tab}`))),
  }
}

export type LastStates = ReturnType<typeof createLastStates>

function parsed(text: string): LastState[] {
  let v: LastState | null
  try {
    v = JSON.parse(text)
  } catch {
    return []
  }
  if (typeof v?.id !== 'string' || typeof v.label !== 'string' || typeof v.at !== 'number') return []
  const read = readLamp(v.lamp)
  if (!read.ok) return []
  const after = Array.isArray(v.after) ? v.after.filter((key) => typeof key === 'string') : []
  const steps = isHistory({ ...v.steps, of: '' }) ? v.steps : undefined
  return [
    { id: v.id, label: v.label, at: v.at, lamp: read.lamp, open: v.open === true, after, ...(steps && { steps }) },
  ]
}
