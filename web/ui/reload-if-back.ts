/**
 * Loads the page anew where its server answers: some browsers keep a module that could not be fetched as failed until then,
 * and do not ask for it again. Address and kept design stay as they are.
 *
 * @returns false where nothing answers: then nothing was done
 */
export async function reloadIfBack(): Promise<boolean> {
  try {
    await fetch(location.href, { method: 'HEAD', cache: 'no-store' });
  } catch {
    return false;
  }
  location.reload();
  return true;
}
