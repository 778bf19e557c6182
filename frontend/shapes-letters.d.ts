// Letters by e-mail, as the API answers them.
import type { Reminder } from './shapes-recruiting.js';

export interface Letter {
  id: string; kind: string; person: { id: string; handle: string; name: string; email: string | null; doubtful: boolean }; call_id: string | null; subject: string;
  state: 'waiting' | 'sent' | 'failed' | 'withdrawn'; sending: boolean; tries: number; next_try_at: string | null; said?: string; created_at: string; ended_at: string | null; erased_at: string | null;
}
export interface LetterText extends Letter { text: string }
export interface DueLetter extends Reminder { call_id: string; by_itself: boolean }
export interface LetterKind { kind: string; group?: 'reminders' | 'news'; by_itself: boolean }
export interface Post { on: boolean; from?: string; waiting: number; failed: number; sent: number; kinds: LetterKind[] }
export interface Written { written: number; left_out: { person_id: string; kind: string; about: string; why: string }[] }
export interface MyLetters { groups: { group: string; says: string; wanted: boolean }[] }
