export interface JigField {
  readonly name: string;
  readonly label: string;
  /** Shown while empty. */
  readonly example: string;
  readonly more?: boolean;
}
