// To be imported before any schema is made: the pages' content policy lets no text be run as code, so schemas must not
// try to compile themselves.
import { config } from 'zod';

config({ jitless: true });
