// Connects the comparison to this page: its workers, the lamps stored in this browser, files.
import { openColumnReader, readersAtOnce } from '../../job/compare/client.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { createCompareRunner } from '../compare/runner.ts'
import { compare } from '../store/compare.ts'
import { storage } from '../store/pageStorage.ts'
import { design, result } from '../store/stores.ts'
import { pickFile } from '../ui/pickFile.ts'
import { openLamp } from './files.ts'
import { LAMP_FILE, openFile } from './page.ts'
import { tracing } from './tracing.ts'

export const compareRunner = createCompareRunner({
  design,
  result,
  compare,
  trace: tracing,
  open: () => openColumnReader(() => {}),
  atOnce: readersAtOnce(),
})

const addFile = (file: File) =>
  openLamp(file, {
    onLamp: (lamp) => compareRunner.add(lamp, file.name),
    onRefused: (why) => compare.setState({ announcement: `${file.name}: ${why.join(' ')}`, refused: true }),
  })

export const compareActs = {
  remove: compareRunner.remove,
  add: ({ lamp, from }: { lamp: Lamp; from: string }) => compareRunner.add(lamp, from),
  async addStored(key: string, from: string) {
    await storage.flush()
    const lamp = await storage.lampOf(key)
    if (lamp) compareRunner.add(lamp, from)
    else
      compare.setState({ announcement: 'That lamp could not be read back from this browser’s storage.', refused: true })
  },
  addFile: () => pickFile({ ...LAMP_FILE, label: 'Lamp file to compare' }, addFile),
}

/** A dropped lamp file: beside the open lamp while the comparison is open, else it is opened. */
export const takeDropped = (file: File) => (compare.getState().open ? addFile(file) : openFile(file))
