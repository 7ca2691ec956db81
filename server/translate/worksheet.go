package translate

import (
	lixiviumv1 "lixivium.example/proto/lixivium/v1"

	"lixivium.example/engine"
)

func fillWorksheetLine(m *lixiviumv1.WorksheetLine, l *engine.WorksheetLine) {
	m.Id = l.ID
	m.Label = l.Label
	m.Value = l.Value
	m.Unit = l.Unit
	m.Expression = l.Expression
	m.Method = l.Method
	m.Inputs = each(l.Inputs, fillWorksheetInput)
	m.Evidence = evidence(l.Evidence)
}

func fillWorksheetInput(m *lixiviumv1.WorksheetInput, i *engine.WorksheetInput) {
	m.Name = i.Name
	m.Value = i.Value
	m.Unit = i.Unit
	switch {
	case i.LineID != "":
		m.From = &lixiviumv1.WorksheetInput_LineId{LineId: i.LineID}
	case i.RequestPath != "":
		m.From = &lixiviumv1.WorksheetInput_RequestPath{RequestPath: i.RequestPath}
	case i.DataRow != "":
		m.From = &lixiviumv1.WorksheetInput_DataRow{DataRow: i.DataRow}
	case i.Adjustment != "":
		m.From = &lixiviumv1.WorksheetInput_Adjustment{Adjustment: i.Adjustment}
	}
}
