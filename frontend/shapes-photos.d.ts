// The shapes of the API's answers about photos, for the type check only: this
// file is not served.
export interface PhotoPicture { size: 'large' | 'screen' | 'thumb'; href: string; width: number; height: number; bytes: number }
export interface Photo { id: string; sample_id?: string; caption: string; added_at: string; yours: boolean; pictures: PhotoPicture[]; revision: number }
export interface PhotoLimits { most: number; most_bytes: number; most_pixels: number; longest_edge: number; large: number; kinds: string[]; caption: number }
export interface Photos { items: Photo[]; limits: PhotoLimits }

/** A photo that has not been sent yet, as this browser keeps it. */
export interface Waiting { id: string; person: string; path: string; blob: Blob; caption: string; at: string }
