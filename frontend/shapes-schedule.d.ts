// The shapes of the API's answers about schedules, for the type check only:
// this file is not served.
export interface Task {
  name: string; kind: string; installment_id?: string; who: string; expected: number; unit: 'hours' | 'days'; on?: string; due?: string; after: string[];
  earliest_start: string; earliest_finish: string; latest_start: string; latest_finish: string; planned_start: string; planned_finish: string;
  slack_days: number; critical: boolean; late_by_days: number; probability: number | null; standard_error: number | null;
  later_days: number; waits: string; waits_from?: string; waits_for: WeekTask[]; through: string;
}
export interface WeekTask { design: string; where: string; name: string; from: string; until: string; due?: string }
export interface PersonWeek { who: string; tasks: WeekTask[] }
export interface Estimate { kind: string; low: number; likely: number; high: number; unit: 'hours' | 'days' | 'times'; source: 'chosen' | 'learned' | 'stated'; from: number }
export interface WorkingPerson { handle: string; person_id: string; days: string[]; hours_per_day: number }
export interface Schedule {
  today: string; revision: number; tasks: Task[]; critical_chain: string[]; words: string; week: PersonWeek[]; findings: string[]; lacks: string[];
  estimates: Estimate[]; people: WorkingPerson[]; draws: number; together: { name: string; where: string }[]; rule: string;
}
export interface Tried { before: Schedule; after: Schedule; changes: string[] }
export interface Work { days: string[]; hours_per_day: number; stitches_per_hour: number | null; away: { from: string; until: string }[]; revision: number }
export interface StudioWeek { today: string; week: PersonWeek[]; holds: { design: string; where: string; held_by: string; at_it: boolean; sentence: string }[]; left: string[] }
