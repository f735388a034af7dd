// Package sizing says where a parting tool and calipers size a turning, to what diameters, and which cuts share a setting
// of the calipers: one rule for the story stick and for the work plan.
package sizing
