/** Which light the lumens of a sheet are. */
export type LightTraced =
  | { kind: 'rated' }
  | { kind: 'board'; boardC: number }
  /** `endS`: of the mode; a later moment is as at its end. */
  | {
      kind: 'mode'
      mode: string
      seconds: number
      endS: number
      junctionMaxC: number
      /** The lamp has a cut-out or a fold-back, and the light is that with both failed. */
      protectionFailed?: true
    }
