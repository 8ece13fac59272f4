// The Khronos validator has no types of its own: what the tests read of it.
declare module 'gltf-validator' {
  interface Message {
    code: string
    message: string
    severity: number
    pointer?: string
  }
  interface Report {
    issues: { numErrors: number; numWarnings: number; numInfos: number; messages: Message[] }
    info: { version: string; drawCallCount: number; totalTriangleCount: number; materialCount: number }
  }
  export function validateBytes(bytes: Uint8Array, options?: { maxIssues?: number }): Promise<Report>
}
