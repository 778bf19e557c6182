// The shapes of the API's answers about releases, for the type check only:
// this file is not served.
import type { Design, Version } from './shapes.js';

export interface GateOverride {
  id: string; gate: string; name: string; installment_id: string | null; reason: string; why: string;
  by: string; at: string; taken_back_at: string | null; taken_back_by?: string;
}
export interface ReleaseGate {
  gate: string; name: string; shut: boolean; why?: string; where: string; by_hand?: boolean; holds_installments: boolean;
  opened: GateOverride | null; again?: string; seen?: string;
}
export interface ReleaseRun {
  id: string; position: number; title: string; air_on: string | null; revision: number; link: string; aired_at: string | null;
  state: 'unrecorded' | 'recorded' | 'edited' | 'captioned' | 'scheduled' | 'aired'; gates: ReleaseGate[]; shut: string[];
}
export interface ReleaseItem {
  item: 'text' | 'released' | 'captions' | 'video' | 'corrections' | 'testers' | 'thanks';
  says: string; done: boolean; at: string | null; by?: string; link?: string; where?: string; version?: number; again?: string;
}
export interface ReleasePart { installment_id: string | null; title: string; version: number; shut: string[]; items: ReleaseItem[] }
export interface ReleaseDay { on: string | null; standing: 'overdue' | 'today' | 'this_week' | 'later' | 'undated' | 'done'; parts: ReleasePart[] }
export interface Release {
  today: string; design: Design; released_by?: string; versions: Version[]; out_version: number; signed: boolean;
  gates: ReleaseGate[]; installments: ReleaseRun[]; days: ReleaseDay[]; taken_back: GateOverride[];
}
