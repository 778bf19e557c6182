// What the API says of what is kept about people.

export interface DataSection { name: string; says: string; rows: Record<string, any>[] }
export interface PersonData { at: string; handle: string; sections: DataSection[] }
export interface PrivacyFact { name: string; what: string; seen_by: string[]; why: string }
export interface Privacy { facts: PrivacyFact[]; forget_after_months?: number }
export interface IdleTesters { months: number; since: string; people: { id: string; handle: string }[] }
