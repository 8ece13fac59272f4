// Opens and saves lamp files; a book as PDF and a saved picture open as well. An invalid file leaves the open lamp as it is.
import { lampFromBytes } from '../../files/lampFile.ts'
import { type ReadLamp, writeLampText } from '../../lamp/read.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { faultText } from '../common/faultText.ts'
import { fileStem, saveFile } from '../common/saveFile.ts'
import { unitSystem } from '../store/unitSystem.ts'

/** Larger than any lamp within the schema's limits. */
const MAX_BYTES = 20e6

/** What is wrong in a file or a link, its lengths in the builder's units; fields keep the names that the file has. */
export const fileFaults = (why: readonly string[]): string[] => why.map((line) => faultText(line, unitSystem()))

export interface FileCallbacks {
  onLamp(lamp: Lamp): void
  onRefused(why: readonly string[]): void
}

export async function openLamp(file: Pick<File, 'size' | 'arrayBuffer'>, callbacks: FileCallbacks): Promise<void> {
  if (file.size > MAX_BYTES) {
    callbacks.onRefused([
      `The file holds ${Math.round(file.size / 1e6)} MB; a lamp file is never over ${MAX_BYTES / 1e6} MB.`,
    ])
    return
  }
  let read: ReadLamp
  try {
    read = await lampFromBytes(new Uint8Array(await file.arrayBuffer()))
  } catch {
    callbacks.onRefused(['The file could not be read from the disk.'])
    return
  }
  if (read.ok) callbacks.onLamp(read.lamp)
  else callbacks.onRefused(fileFaults(read.why))
}

/** "Gannet Head" → gannet-head.lamp.json */
export const fileName = (name: string): string => `${fileStem(name)}.lamp.json`

export function saveLamp(lamp: Lamp): void {
  saveFile(fileName(lamp.name), writeLampText(lamp), 'application/json')
}

/** Listens for files dropped anywhere on the page. Returns a function that removes the listeners. */
export function listenForDrops(onDragOver: (isOver: boolean) => void, onFile: (file: File) => void): () => void {
  let depth = 0
  const carries = (event: DragEvent) => event.dataTransfer?.types.includes('Files') ?? false
  const show = (isOver: boolean) => {
    if (!isOver) depth = 0
    onDragOver(isOver)
  }
  const on = {
    dragenter: (event: DragEvent) => {
      if (carries(event) && depth++ === 0) show(true)
    },
    dragleave: (event: DragEvent) => {
      if (carries(event) && --depth <= 0) show(false)
    },
    dragover: (event: DragEvent) => {
      if (carries(event)) event.preventDefault()
    },
    drop: (event: DragEvent) => {
      if (!carries(event)) return
      // A part of the page may have taken it, as a drawing.
      const isTaken = event.defaultPrevented
      event.preventDefault()
      show(false)
      if (isTaken) return
      for (const file of event.dataTransfer?.files ?? []) onFile(file)
    },
  }
  for (const [name, listener] of Object.entries(on)) window.addEventListener(name as 'drop', listener)
  return () => {
    for (const [name, listener] of Object.entries(on)) window.removeEventListener(name as 'drop', listener)
  }
}
