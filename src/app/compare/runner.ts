// Reads the lamps of the comparison, each once; the open one again after an edit. Its own trace rests meanwhile.
import { MOST_COLUMNS } from '../../job/compare/result.ts'
import type { ColumnReader } from '../../job/compare/run.ts'
import type { Trouble } from '../../job/service/restarting.ts'
import type { CellOptions } from '../../job/sweep/cell.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Compare, ComparedLamp } from '../store/compare.ts'
import type { Design } from '../store/design.ts'
import type { Result } from '../store/result.ts'
import { createTracePause } from '../store/tracePause.ts'

export interface CompareRunnerOptions {
  design: Design
  result: Result
  compare: Compare
  trace: { pause(): void; resume(): void }
  open(onTrouble: (trouble: Trouble) => void): ColumnReader[]
}

/** The lamp's own trace uses the same seed; four times the rays of a cell of a range. */
const COLUMN: CellOptions = { seed: 1, rays: 1 << 18 }
/** What was at work begins anew when the panel opens again. */
const AT_CLOSE = {
  waiting: 'waiting',
  tracing: 'waiting',
  lit: 'lit',
  reading: 'lit',
  done: 'done',
  failed: 'waiting',
} as const
/** After an edit, so that typing or a drag doesn't start one reading after another. */
const DEBOUNCE_MS = 700

export function createCompareRunner({ design, result, compare, trace, open }: CompareRunnerOptions) {
  let readers: ColumnReader[] | null = null
  const busy = new Set<ColumnReader>()
  let timer: ReturnType<typeof setTimeout> | undefined
  let counter = 0
  const tracePause = createTracePause(result, trace, 'compare')
  const isOpen = () => compare.getState().open

  const change = (key: string, part: Partial<ComparedLamp>) =>
    compare.setState(({ lamps }) => ({ lamps: lamps.map((l) => (l.key === key ? { ...l, ...part } : l)) }))

  const columnOf = (lamp: Lamp, from: string): ComparedLamp => {
    const key = String(counter++)
    return { key, name: lamp.name, from, lamp, read: null, state: 'waiting', why: '' }
  }

  /** Gives every free worker a lamp, the light of all first; when none is left the open lamp's own trace goes on. */
  async function work() {
    if (!isOpen() || !(await tracePause.begin(() => !isOpen()))) return
    readers ??= open(() => {})
    for (const reader of readers) {
      const { lamps } = compare.getState()
      const next = lamps.find((l) => l.state === 'waiting') ?? lamps.find((l) => l.state === 'lit')
      if (!next) break
      if (!busy.has(reader)) void readOne(reader, next)
    }
    if (busy.size === 0) tracePause.end()
  }

  async function readOne(reader: ColumnReader, { key, lamp, read }: ComparedLamp) {
    busy.add(reader)
    change(key, { state: read ? 'reading' : 'tracing' })
    try {
      if (read) {
        const column = await reader.rest(lamp, COLUMN, read, (part) => change(key, { read: part }))
        change(key, { read: column, state: 'done' })
      } else change(key, { read: await reader.light(lamp, COLUMN), state: 'lit' })
    } catch (error) {
      if (readers?.includes(reader))
        change(key, { state: 'failed', why: error instanceof Error ? error.message : String(error) })
    } finally {
      busy.delete(reader)
      if (readers?.includes(reader)) void work()
    }
  }

  /** The open lamp, as it is now, in the first place. */
  function takeOpenLamp() {
    const lamp = design.lamp()
    const [first, ...others] = compare.getState().lamps
    if (first?.lamp !== lamp) compare.setState({ lamps: [columnOf(lamp, 'on the sheet'), ...others] })
    void work()
  }

  function close() {
    clearTimeout(timer)
    for (const reader of readers ?? []) reader.close()
    readers = null
    busy.clear()
    compare.setState(({ lamps }) => ({
      lamps: lamps.map((l) => ({ ...l, state: AT_CLOSE[l.state] })),
    }))
    tracePause.end()
  }

  return {
    start(): () => void {
      const offs = [
        compare.subscribe((now, before) => {
          if (now.open && !before.open) takeOpenLamp()
          if (!now.open && before.open) close()
        }),
        design.store.subscribe((now, before) => {
          if (!isOpen() || now.lamp === before.lamp) return
          clearTimeout(timer)
          timer = setTimeout(takeOpenLamp, DEBOUNCE_MS)
        }),
      ]
      return () => {
        for (const off of offs) off()
        close()
      }
    },
    add(lamp: Lamp, from: string) {
      const { lamps } = compare.getState()
      if (lamps.length >= MOST_COLUMNS) return
      compare.setState({ lamps: [...lamps, columnOf(lamp, from)], announcement: `${lamp.name} stands beside it.` })
      void work()
    },
    remove(key: string) {
      compare.setState(({ lamps }) => ({ lamps: lamps.filter((l) => l.key !== key) }))
    },
  }
}
