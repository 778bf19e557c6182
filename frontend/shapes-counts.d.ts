// The shapes of the API's answers about versions, sign-offs, cautions and body
// tables, for the type check only: this file is not served.
import type { Length, Rule, Version, Who } from './shapes.js';

export interface VersionMaker { assignment_id: string; person_id: string; handle: string; size_id: string; size: string; state: string }
export interface Answered { kind: string; name: string; size: string; message: string; answer: string }
export interface SignOff {
  id: string; by: Who | null; name: string; signed_at: string; note: string; answers: Answered[];
  withdrawn_at: string | null; withdrawn_why: string;
}
export interface MadeVersion extends Version { testers: VersionMaker[]; sign_off: SignOff | null }
export interface SignOffs {
  version: { id: string; number: number }; revision: number; standing: SignOff | null; earlier: SignOff[];
  failures: { kind: string; name: string; size: string; message: string }[]; ready: boolean;
}
export interface Comparison {
  from: { id: string; number: number }; to: { id: string; number: number };
  changes: { kind: string; line?: string; size?: string; before?: number | null; after?: number | null; unit_before?: string; unit_after?: string; testers: VersionMaker[] }[];
  rules: { name: string; before: Rule | null; after: Rule | null }[];
}
export interface Promised { point: string; size: string; expected: number | null; intended?: number | null; ease?: number | null }
export interface Proposal {
  lines: { name: string; unit: string; values: (number | null)[]; text: string; now: (number | null)[]; now_text: string; changed: boolean }[];
  sizes: { size: string; cost: number; exact: boolean; problem?: string }[];
  finished: Promised[]; now: Promised[]; unguided: { what: string; problem: string }[];
}
export interface Source { citation: string; standing: string }
export interface Range { low: number | null; high: number | null }
export interface BodyChart {
  name: string; edition: string; sizes: string[]; dimensions: { id: string; name: string; how: string; source: Source }[];
  cells: { size: string; dimension: string; in: Range; cm: Range; note: string; source: Source }[];
}
export interface BodyTable {
  id: string; name: string; source: string; retired: boolean; revision: number;
  sizes: { name: string; body: { dimension: string; length: Length }[] }[];
}
export interface SafetyRule {
  id: string; jurisdiction: string; instrument: string; covers: string; ages: string; says: string; exempt: string;
  figures: { what: string; value: number; unit: string }[]; source: string; from_memory: boolean;
}
export interface DesignCautions {
  design_id: string; revision: number; audience: string; features: string[]; told_at: string | null;
  offered: { id: string; label: string }[]; deferral: string;
  cautions: {
    id: string; level: string; title: string; text: string; because: string[]; rules: SafetyRule[]; holds_release: boolean;
    acknowledged: { by: Who | null; name: string; at: string; note: string } | null;
  }[];
}
export interface Survey { id: string; who: string; dimensions: string[]; youngest: number; oldest: number; caveat: string; source: Source }
export interface Covered {
  who: string; caveat: string; message: string; source: Source; sizes_cm: number[]; step_cm: number;
  groups: { sex: string; people: number; within: number; smaller: number; larger: number; between: number; share: number; nearest: number[] }[];
}
