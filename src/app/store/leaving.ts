// What a page leaves behind when it is closed or loaded anew a moment after an edit, and how the next one takes it over.
import { isSame } from '../../lamp/changes.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Edited } from './history.ts'
import type { LastState, LastStates } from './lastStates.ts'
import { copyName, type StoredLamp } from './storedLamps.ts'
import type { Sync } from './sync.ts'

interface Parts {
  lastStates: LastStates | undefined
  sync: Pick<Sync, 'unwritten' | 'unsynced' | 'newestStored' | 'run'>
  lamps(): readonly StoredLamp[]
  /** The open lamp; null where all of it is stored. */
  openLamp(): (Edited & { id: string }) | null
  lampOf(key: string): Promise<Lamp | null>
  add(id: string, edited: Edited): void
  newId(): string
  notify(words: string): void
}

export function createLeaving({ lastStates, sync, lamps, openLamp, lampOf, add, newId, notify }: Parts) {
  const { unwritten, unsynced, newestStored } = sync
  const find = (id: string) => lamps().find((l) => l.id === id)

  /** What may be the newest that is stored: writes that have begun may still be done. */
  function after(id: string): string[] {
    const begun = find(id)?.states.filter(({ key }) => unwritten.has(key)) ?? []
    return [newestStored.get(id) ?? [], begun.map(({ key }) => key)].flat()
  }

  async function takeOverState({ id, after, open: _, ...edited }: LastState): Promise<string> {
    const top = find(id)?.states[0]
    if (top && isSame(await lampOf(top.key), edited.lamp)) return id
    if (!top || after.includes(top.key)) {
      add(id, edited)
      return id
    }
    const [own, name] = [newId(), copyName(edited.lamp.name, lamps())]
    add(own, { lamp: { ...edited.lamp, name }, label: edited.label, at: edited.at })
    notify(
      `“${edited.lamp.name}” was also changed in another tab. Both are kept: what was made last here is now “${name}”.`,
    )
    return own
  }

  return {
    /** Writes down what is not stored yet. */
    leave(): void {
      const open = openLamp()
      if (open) lastStates?.write({ ...open, open: true, after: after(open.id) })
      for (const { id, states } of lamps()) {
        const [top] = states
        const lamp = top && unwritten.get(top.key)
        if (lamp && id !== open?.id && unsynced.has(id))
          lastStates?.write({ id, lamp, label: top.label, at: top.at, after: after(id), open: false })
      }
    },
    /** Stores what earlier pages have left. Gives the id of the lamp that was open on the last of them, or null. */
    async takeOver(): Promise<string | null> {
      const left = lastStates?.read()
      if (!left || left.keys.length === 0) return null
      let open: string | null = null
      for (const state of left.states) {
        const id = await takeOverState(state)
        if (state.open) open = id
      }
      await sync.run()
      if (unsynced.size === 0) lastStates?.remove(left.keys)
      return open
    },
  }
}
