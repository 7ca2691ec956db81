package engine

func (w *work) worksheet(f *Formulation) []WorksheetLine { return nil }
