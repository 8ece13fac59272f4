// Reads the lamps of the comparison, each once; the open one again after an edit. Its own trace rests meanwhile.
import { type ColumnSoFar, MOST_COLUMNS } from '../../job/compare/result.ts'
import type { ColumnReader } from '../../job/compare/run.ts'
import type { DangerStage } from '../../job/danger/result.ts'
import type { CellOptions } from '../../job/sweep/cell.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { type Compare, type ComparedLamp, nextLamp, nextStep } from '../store/compare.ts'
import type { Design } from '../store/design.ts'
import type { Result } from '../store/result.ts'
import { createTracePause } from '../store/tracePause.ts'

export interface CompareRunnerOptions {
  design: Design
  result: Result
  compare: Compare
  trace: { pause(): void; resume(): void }
  open(): ColumnReader
  /** So many readers at once. */
  atOnce: number
}

/** The lamp's own trace uses the same seed; four times the rays of a cell of a range. */
const COLUMN: CellOptions = { seed: 1, rays: 1 << 18 }
/** After an edit, so that typing or a drag doesn't start one reading after another. */
const DEBOUNCE_MS = 700

/** The next step of a lamp's reading, with what was there before. */
async function nextPart(
  reader: ColumnReader,
  { lamp, read }: ComparedLamp,
  onStage: (stage: DangerStage, share: number) => void,
): Promise<ColumnSoFar> {
  if (!read) return await reader.light(lamp, COLUMN)
  if (!read.heat) return { ...read, heat: await reader.heat(lamp, read.light.ledger) }
  return { ...read, danger: await reader.danger(lamp, { seed: COLUMN.seed, rough: !read.danger }, onStage) }
}

export function createCompareRunner({ design, result, compare, trace, open, atOnce }: CompareRunnerOptions) {
  let readers: ColumnReader[] | null = null
  /** With the key of the lamp that each reads. */
  const busy = new Map<ColumnReader, string>()
  let timer: ReturnType<typeof setTimeout> | undefined
  let counter = 0
  const tracePause = createTracePause(result, trace, 'compare')
  const isOpen = () => compare.getState().open

  const change = (key: string, part: Partial<ComparedLamp>) =>
    compare.setState(({ lamps }) => ({ lamps: lamps.map((l) => (l.key === key ? { ...l, ...part } : l)) }))

  const columnOf = (lamp: Lamp, from: string): ComparedLamp => {
    const key = String(counter++)
    return { key, name: lamp.name, from, lamp, read: null, state: 'waiting', stage: null, why: '' }
  }

  /** Gives every free worker a lamp, the light of all first; when none is left the open lamp's own trace goes on. */
  async function work() {
    if (!isOpen() || !(await tracePause.begin(() => !isOpen()))) return
    readers ??= Array.from({ length: atOnce }, open)
    for (const reader of readers) {
      const next = nextLamp(compare.getState().lamps)
      if (!next) break
      if (!busy.has(reader)) void readOne(reader, next)
    }
    if (busy.size === 0) tracePause.end()
  }

  async function readOne(reader: ColumnReader, lamp: ComparedLamp) {
    const { key } = lamp
    busy.set(reader, key)
    change(key, { state: 'reading' })
    try {
      const read = await nextPart(reader, lamp, (name, share) => change(key, { stage: { name, share } }))
      change(key, { read, state: nextStep({ read }) ? 'waiting' : 'done' })
    } catch (error) {
      if (readers?.includes(reader))
        change(key, { state: 'failed', why: error instanceof Error ? error.message : String(error) })
    } finally {
      change(key, { stage: null })
      busy.delete(reader)
      if (readers?.includes(reader)) void work()
    }
  }

  /** A whole danger sheet takes a minute: whoever reads a lamp that stands there no more starts anew. */
  function dropOld() {
    const keys = new Set(compare.getState().lamps.map((l) => l.key))
    readers =
      readers?.map((reader) => {
        const key = busy.get(reader)
        if (key === undefined || keys.has(key)) return reader
        busy.delete(reader)
        reader.close()
        return open()
      }) ?? null
  }

  /** The open lamp, as it is now, in the first place. */
  function takeOpenLamp() {
    const lamp = design.lamp()
    const [first, ...others] = compare.getState().lamps
    if (first?.lamp !== lamp) compare.setState({ lamps: [columnOf(lamp, 'on the sheet'), ...others] })
    dropOld()
    void work()
  }

  function close() {
    clearTimeout(timer)
    for (const reader of readers ?? []) reader.close()
    readers = null
    busy.clear()
    compare.setState(({ lamps }) => ({
      // What was at work begins anew when the panel opens again.
      lamps: lamps.map((l) => ({ ...l, stage: null, state: l.state === 'done' ? 'done' : 'waiting' })),
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
      if (lamps.length >= MOST_COLUMNS) {
        compare.setState({ announcement: `${lamp.name} is left out: four lamps stand there already.`, refused: true })
        return
      }
      compare.setState({
        lamps: [...lamps, columnOf(lamp, from)],
        announcement: `${lamp.name} stands beside it.`,
        refused: false,
      })
      void work()
    },
    remove(key: string) {
      compare.setState(({ lamps }) => ({ lamps: lamps.filter((l) => l.key !== key) }))
      dropOld()
      void work()
    },
  }
}
