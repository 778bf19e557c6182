// The shapes of the API's answers about plans, sign-up and the course of a
// call, for the type check only: this file is not served.

export interface Coverage { reports: number[]; probability: number; probability_lowered: number; message: string }
export interface PlanSize {
  size_id: string; name: string; fewest: number; wanted: number; most: number; present: number; proposed: number;
  now: Coverage; then: Coverage; recruit: number; reserve: string[];
}
export interface TesterRecord {
  taken: number; in_time: number; late: number; dropped: number; running: number; median_days_late: number | null; completeness: number | null;
  told_taken: number; told_finished: number; counted_taken: number; counted_in_time: number; sentence: string;
}
export interface PlanPerson {
  person_id: string; handle: string; sizes: string[]; record: TesterRecord; probability: number;
  state: 'working' | 'quiet' | 'reported' | 'withdrawn'; assignment_id?: string; revision?: number; accepted: boolean;
  present?: string; proposed?: string; place: number; change: 'keep' | 'ask' | 'move' | 'release' | 'none'; reason: string; out?: string;
}
export interface Plan {
  probability: number; objective: { short: number; below_wanted: number; preference: number; expected: number };
  sizes: PlanSize[]; people: PlanPerson[]; shortfalls: string[]; warnings: string[];
}
