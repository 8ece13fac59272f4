// Connects the comparison to this page: its workers, the lamps stored in this browser, files.
import { openColumnReaders } from '../../job/compare/client.ts'
import { createCompareRunner } from '../compare/runner.ts'
import { compare } from '../store/compare.ts'
import { storage } from '../store/pageStorage.ts'
import { design, result } from '../store/stores.ts'
import { pickFile } from '../ui/pickFile.ts'
import { openLamp } from './files.ts'
import { LAMP_FILE } from './page.ts'
import { tracing } from './tracing.ts'

export const compareRunner = createCompareRunner({ design, result, compare, trace: tracing, open: openColumnReaders })

export const compareActs = {
  remove: compareRunner.remove,
  async addStored(key: string, from: string) {
    await storage.flush()
    const lamp = await storage.lampOf(key)
    if (lamp) compareRunner.add(lamp, from)
    else compare.setState({ announcement: 'That lamp could not be read back from this browser’s storage.' })
  },
  addFile: () =>
    pickFile({ ...LAMP_FILE, label: 'Lamp file to compare' }, (file) =>
      openLamp(file, {
        onLamp: (lamp) => compareRunner.add(lamp, file.name),
        onRefused: (why) => compare.setState({ announcement: `${file.name}: ${why.join(' ')}` }),
      }),
    ),
}
