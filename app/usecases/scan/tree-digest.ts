import type { RoleReading } from './role-reading.ts'

/** Raised whenever the same tree would be understood otherwise: then every root is gone through anew. */
const SCAN_VERSION = 1

/** What is recorded of a scanned tree: it tells the next scan that there is nothing to do. */
export function recordedDigest(walked: string, roles: Pick<RoleReading, 'key'>): string {
  return `${SCAN_VERSION} ${roles.key} ${walked}`
}

/** The walk's digest in a recorded one; null where names would be read otherwise today. */
export function walkedDigest(recorded: string | null, roles: Pick<RoleReading, 'key'>): string | null {
  const head = recordedDigest('', roles)
  return recorded?.startsWith(head) === true ? recorded.slice(head.length) : null
}
