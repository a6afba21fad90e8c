package main

import (
	"context"
	"testing"
)

func TestPhotosArePublishedTwiceAlike(t *testing.T) {
	d, err := gaugePhotos(context.Background(), 2, 1, do)
	if err != nil {
		t.Fatal(err)
	}
	if d.Cold.Files != d.Warm.Files || d.Cold.Bytes != d.Warm.Bytes || d.Originals < 2<<20 {
		t.Errorf("%+v", d)
	}
}
