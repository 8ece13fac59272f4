// Makes a file and says how it went; a file that could not be made is a sentence, never silence.
import { workshop } from '../store/workshop.ts'

export async function saving(file: string, make: () => Promise<void>): Promise<void> {
  workshop.setState({ saved: { file, state: 'making', words: `${file} is being made…` } })
  try {
    await make()
    workshop.setState({ saved: { file, state: 'saved', words: `${file} has been saved.` } })
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error)
    workshop.setState({ saved: { file, state: 'failed', words: `${file} could not be made: ${why}` } })
  }
}
