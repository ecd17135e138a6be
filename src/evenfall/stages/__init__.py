"""A folder per stage, a file per room: narrow frozen arguments in, a frozen result out."""
