// The page: stored lamps, the shell's state, and what actions may use.
import { useStore } from 'zustand'
import type { Page } from '../actions/action.ts'
import { storage, useStorage } from '../store/pageStorage.ts'
import { currentSevere } from '../store/severe.ts'
import type { ShellState } from '../store/shell.ts'
import { design, result, shell, view } from '../store/stores.ts'
import { pickFile } from '../ui/pickFile.ts'
import { openLamp, saveLamp } from './files.ts'
import { tracing } from './tracing.ts'

export const LAMP_FILE = { accept: '.json,application/json,.pdf,application/pdf,.png,image/png', label: 'Lamp file' }

export { design, shell, storage, useStorage }
export const useShell = <T>(pick: (s: ShellState) => T): T => useStore(shell, pick)

export const openFile = async (file: File) => {
  if (/\.ies$/i.test(file.name)) {
    const why = 'A photometric file is no lamp. An emitter takes it: Emitters, Profile, “From a file…”.'
    shell.setState({ fileError: { file: file.name, why: [why] } })
    return
  }
  await openLamp(file, {
    onLamp: (lamp) => storage.add(lamp, 'From a file'),
    onRefused: (why) => shell.setState({ fileError: { file: file.name, why } }),
  })
}

/** A design with a severe finding can be saved, but never silently. */
function save() {
  saveLamp(design.lamp())
  const severe = currentSevere()
  const saved = severe?.length === 0 ? null : { titles: severe ?? [], known: severe !== null }
  shell.setState({ saved })
}
design.store.subscribe(({ lamp }, before) => lamp !== before.lamp && shell.setState({ saved: null }))

export const page: Page = {
  design,
  view,
  result,
  files: { open: () => pickFile(LAMP_FILE, openFile), save },
  trace: { pause: () => tracing.pause(), resume: () => tracing.resume() },
  help: () => shell.setState({ help: true }),
  search: () => shell.setState({ search: true }),
}
